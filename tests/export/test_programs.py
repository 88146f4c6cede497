"""The papers as other programs print them.

These programs come from no Python package. Where one is not installed its test is skipped and says
so; where PRINTING_PROGRAMS=required is set, as `.ci/run` does once it could install them, it fails.
"""

import os
import shutil
import subprocess

import pytest
from at_hand import made, written
from depth import not_quick

CHROMIUM = ("chromium", "chromium-browser", "google-chrome")
OFFICE = ("soffice", "libreoffice")
TEXT = ("pdftotext",)
NAMES = ["plan/arrival-left", "incident/leg-trapped-fixed-cord", "kit/harness-and-connectors"]

pytestmark = not_quick  # seconds each


def found(*names):
    """The first of these programs that is installed."""
    path = next(filter(None, map(shutil.which, names)), None)
    if path is None:
        told = f"not installed, so not checked: {names[0]}"
        (pytest.fail if os.environ.get("PRINTING_PROGRAMS") == "required" else pytest.skip)(told)
    return path


def pages(pdf):
    """The text of each page."""
    return subprocess.run(
        [found(*TEXT), "-layout", str(pdf), "-"], capture_output=True, text=True, check=True
    ).stdout.split("\f")[:-1]


def run(command, folder):
    """What the program wrote on its standard outputs, for a message."""
    done = subprocess.run(
        command,
        cwd=folder,
        capture_output=True,
        text=True,
        timeout=180,
        env={"HOME": str(folder), "PATH": "/usr/bin:/bin:/usr/local/bin"},
    )
    return done.stdout + done.stderr


@pytest.mark.parametrize("name", NAMES)
def test_html_prints_with_the_summary_on_one_page(there, name):
    (there / "x.html").write_bytes(written(name, ".html"))
    told = run(
        [
            found(*CHROMIUM),
            "--headless",
            "--no-sandbox",
            "--disable-gpu",
            "--disable-dev-shm-usage",
            "--no-pdf-header-footer",
            "--print-to-pdf=x.pdf",
            str(there / "x.html"),
        ],
        there,
    )
    check(there / "x.pdf", name, told)


@pytest.mark.parametrize("name", NAMES)
def test_docx_prints_with_the_summary_on_one_page(there, name):
    (there / "x.docx").write_bytes(written(name, ".docx"))
    told = run([found(*OFFICE), "--headless", "--convert-to", "pdf", "x.docx"], there)
    check(there / "x.pdf", name, told)


def check(pdf, name, told):
    assert pdf.exists(), told
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
