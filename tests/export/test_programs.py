"""The papers as other programs print them.

These programs come from no Python package. Where one is not installed its test is skipped and says
so; where PRINTING_PROGRAMS=required is set, as `.ci/run` does once it could install them, it fails.
"""

import os
import re
import shutil
import subprocess

import pytest
from at_hand import DATE, made
from depth import not_quick

from advisor.papers.door import papers

CHROMIUM = ("chromium", "chromium-browser", "google-chrome")
OFFICE = ("soffice", "libreoffice")
TEXT = ("pdftotext",)
PLANS = ["plan/arrival-left", "plan/saturday", "plan/loose-nut"]
CARDS = ["plan/arrival-left", "plan/twelve-cubs", "method/foul-air"]

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


def by_browser(data, folder):
    """The text of each page as a browser prints HTML."""
    (folder / "x.html").write_bytes(data)
    told = run(
        [
            found(*CHROMIUM),
            "--headless",
            "--no-sandbox",
            "--disable-gpu",
            "--disable-dev-shm-usage",
            "--no-pdf-header-footer",
            "--print-to-pdf=x.pdf",
            str(folder / "x.html"),
        ],
        folder,
    )
    assert (folder / "x.pdf").exists(), told
    return pages(folder / "x.pdf")


def by_office(data, folder):
    """The text of each page as an office program prints DOCX."""
    (folder / "x.docx").write_bytes(data)
    told = run([found(*OFFICE), "--headless", "--convert-to", "pdf", "x.docx"], folder)
    assert (folder / "x.pdf").exists(), told
    return pages(folder / "x.pdf")


PRINTERS = [(".html", by_browser), (".docx", by_office)]
printed = pytest.mark.parametrize("form, printer", PRINTERS, ids=["browser", "office"])


@printed
@pytest.mark.parametrize("name", PLANS)
def test_the_working_set_takes_at_most_eight_pages(there, name, form, printer):
    """The plan two, the card one sheet of two sides, the rest the assessment."""
    text = printer(papers(made(name), form, "working"), there)
    sides = [
        n for n, page in enumerate(text) if re.search(r"Side [12] of 2", " ".join(page.split()))
    ]
    assert len(text) <= 8 and sides == [2, 3]
    assert "Risk assessment" in text[4] and "Change on the day" in text[-1]
    assert made(name).headline()[:40] in " ".join(text[0].split())


@printed
@pytest.mark.parametrize("size", ["A4", "letter"])
def test_every_sheet_bears_title_version_and_page(there, form, printer, size):
    name = PLANS[0]
    text = printer(papers(made(name), form, "working", size), there)
    for n, page in enumerate(text, 1):
        told = " ".join(page.split())
        assert made(name).version in told and DATE in told and made(name).title in told
        assert re.search(rf"Page {n} of {len(text)}|{n} */ *{len(text)}|Side [12] of 2", told), n


@printed
@pytest.mark.parametrize("name", CARDS)
def test_the_card_is_one_sheet(there, name, form, printer):
    text = printer(papers(made(name), form, "card"), there)
    assert len(text) == 2 and "Tick" in text[0] and "Water rising" in text[1]


@printed
@pytest.mark.parametrize(
    "name, kind",
    [("incident/leg-trapped-fixed-cord", "incidents"), ("kit/harness-and-connectors", "kit")],
)
def test_other_papers_are_short(there, name, kind, form, printer):
    text = printer(papers(made(name), form, kind), there)
    assert (
        len(text) <= 3
        and made(name).headline()[:30] in " ".join("".join(text).split())
        or (kind == "incidents" and len(text) == 1)
    )


@printed
@pytest.mark.parametrize("size", ["A4", "letter"])
def test_each_incident_of_a_plan_is_one_page(there, form, printer, size):
    name = PLANS[0]
    text = printer(papers(made(name), form, "incidents", size), there)
    assert len(text) == len(made(name).responses) == 5


@printed
def test_the_plan_is_two_pages(there, form, printer):
    text = printer(papers(made(PLANS[0]), form, "plan"), there)
    assert len(text) == 2 and "Signature" in text[1] and "The queue down and up." in text[1]
