"""The papers as other programs print them.

These programs are no part of the tests' needs: where one is absent, its test is skipped.
"""

import shutil
import subprocess

import pytest
from at_hand import made, written

CHROMIUM = (
    shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
)
OFFICE = shutil.which("soffice") or shutil.which("libreoffice")
TEXT = shutil.which("pdftotext")
NAMES = ["plan/arrival-left", "incident/leg-trapped-fixed-cord", "kit/harness-and-connectors"]


def pages(pdf):
    """The text of each page."""
    return subprocess.run(
        [TEXT, "-layout", str(pdf), "-"], capture_output=True, text=True, check=True
    ).stdout.split("\f")[:-1]


def run(command, folder):
    try:
        subprocess.run(
            command,
            cwd=folder,
            capture_output=True,
            timeout=180,
            env={"HOME": str(folder), "PATH": "/usr/bin:/bin:/usr/local/bin"},
        )
    except subprocess.TimeoutExpired:
        pytest.skip("the program did not answer in time on this machine")


@pytest.mark.skipif(not (CHROMIUM and TEXT), reason="no chromium or pdftotext here")
@pytest.mark.parametrize("name", NAMES)
def test_html_prints_with_the_summary_on_one_page(there, name):
    (there / "x.html").write_bytes(written(name, ".html"))
    run(
        [
            CHROMIUM,
            "--headless",
            "--no-sandbox",
            "--disable-gpu",
            "--no-pdf-header-footer",
            "--print-to-pdf=x.pdf",
            str(there / "x.html"),
        ],
        there,
    )
    check(there / "x.pdf", name)


@pytest.mark.skipif(not (OFFICE and TEXT), reason="no LibreOffice or pdftotext here")
@pytest.mark.parametrize("name", NAMES)
def test_docx_prints_with_the_summary_on_one_page(there, name):
    (there / "x.docx").write_bytes(written(name, ".docx"))
    run([OFFICE, "--headless", "--convert-to", "pdf", "x.docx"], there)
    check(there / "x.pdf", name)


def check(pdf, name):
    if not pdf.exists():
        pytest.skip("the program wrote nothing on this machine")
    text = pages(pdf)
    starts = [
        n
        for n, page in enumerate(text)
        if any(line.strip() == "Summary" for line in page.splitlines())
    ]
    assert starts == [1]
    words = " ".join(text[1].split())
    assert (
        made(name).advice.cautions[-1] in words
    )  # the summary's first and last lines are on the same page
    assert made(name).headline()[:40] in words
