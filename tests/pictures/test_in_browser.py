"""Texts as a browser sets them, by its own measure (getBBox): none over another, none outside the
sheet, none outside its box, in the letters the program ships and in those of a plain system.
"""

import base64
import json
import shutil
import subprocess
from pathlib import Path

import font_lato
import pytest
from depth import cases, not_quick
from drawn import a_plan, view_at, view_of, view_with

from advisor.pictures.all import apart, pictures
from advisor.pictures.head import close_up

BROWSER = shutil.which("chromium") or shutil.which("chromium-browser")
CASES = {
    "free": ("plan/arrival-left",),
    "short": ("plan/arrival-left", "ladder main.length=12 m", "lifeline.length=14 m"),
    "slab and doubled": ("numbers/slab-and-three-pieces",),
    "wide": ("plan/wide-angle", "pitch head.leg spacing=1.5 m"),
    "crowded": ("plan/master-point-crowds",),
    "crossing": ("plan/arrival-left", "pitch head.path crosses=yes", "pitch.landing=pool"),
    "nothing": (),
}
NOTHING = "case: x\nabout: [plan]\ngiven:\n  pitch: {hang: free}\n"
SCRIPT = """
<script>
for (const face of document.fonts) face.load();
document.fonts.ready.then(() => {
const found = [];
for (const svg of document.querySelectorAll('svg')) {
  const sheet = svg.viewBox.baseVal;
  const [left, top] = [sheet.x, sheet.y];
  const [right, bottom] = [sheet.x + sheet.width, sheet.y + sheet.height];
  const boxes = [...svg.querySelectorAll('text')].map(t => [t.getBBox(), t.textContent]);
  const rims = [...svg.querySelectorAll('rect[data-part="not-known"]')].map(r => r.getBBox());
  boxes.forEach(([a, word], n) => {
    if (a.x < left || a.y < top || a.x + a.width > right || a.y + a.height > bottom)
      found.push([svg.id, 'off the sheet', word]);
    for (const r of rims)
      if (a.y >= r.y && a.y + a.height <= r.y + r.height + 14 && a.y < r.y + r.height
          && (a.x < r.x || a.x + a.width > r.x + r.width || a.y + a.height > r.y + r.height))
        found.push([svg.id, 'outside its box', word]);
    for (const [b, other] of boxes.slice(n + 1)) {
      const across = Math.min(a.x + a.width, b.x + b.width) - Math.max(a.x, b.x);
      const down = Math.min(a.y + a.height, b.y + b.height) - Math.max(a.y, b.y);
      if (across > 0.5 && down > 0.5) found.push([svg.id, word, other]);
    }
  });
}
document.body.innerHTML = '<pre id="found"></pre>';
document.getElementById('found').textContent =
  'BEGIN' + JSON.stringify({pictures: PICTURES, found}) + 'END';
});
</script>
"""


def measured(folder: Path, svgs: list[str]) -> list:
    """What a browser finds wrong with some pictures."""
    page = folder / "page.html"
    script = SCRIPT.replace("PICTURES", str(len(svgs)))
    head = f"<!doctype html><meta charset=utf-8><style>{_shipped()}</style><body>"
    page.write_text(f"{head}{''.join(svgs)}{script}", encoding="utf-8")
    command = [BROWSER, "--headless", "--no-sandbox", "--disable-gpu", "--dump-dom"]
    command += ["--virtual-time-budget=5000"]
    command += [f"--user-data-dir={folder / 'profile'}", page.as_uri()]
    told = subprocess.run(command, capture_output=True, text=True, timeout=240, check=True).stdout
    answer = told.partition("BEGIN")[2].partition("END")[0]
    answer = answer.replace("&lt;", "<").replace("&gt;", ">").replace("&amp;", "&")
    data = json.loads(answer)
    assert data["pictures"] == len(svgs)
    return data["found"]


def _shipped() -> str:
    """The letters that come with the program, for a system that lacks them."""
    files = Path(font_lato.__file__).parent / "files"
    faces = []
    for name, weight in (("Lato-Regular.ttf", 400), ("Lato-Bold.ttf", 700)):
        data = base64.b64encode((files / name).read_bytes()).decode()
        faces.append(
            f"@font-face {{font-family: Lato; font-weight: {weight};"
            f" src: url(data:font/ttf;base64,{data})}}"
        )
    return "".join(faces)


def drawn(view) -> list[str]:
    """All pictures of a view, as they stand by themselves, on the plan and on the card."""
    close = close_up(view)
    found = [*pictures(view).values(), *(made.canvas for made in apart(view).values())]
    found += [close[0]] if close else []
    return [canvas.svg() for canvas in found]


def views():
    """Chosen views, and as many plans as the depth asks for."""
    for change in CASES.values():
        yield view_with(*change) if change else view_of(NOTHING)
    yield from map(view_at, filter(a_plan, cases(3, 40)))


@not_quick
@pytest.mark.skipif(BROWSER is None, reason="no browser to measure with")
@pytest.mark.parametrize("letters", ["Lato", "DejaVu Sans"])
def test_no_label_covers_another_and_none_leaves_its_box(tmp_path, letters):
    svgs = [svg for view in views() for svg in drawn(view)]
    plain = [svg.replace("Lato, ", "" if letters != "Lato" else "Lato, ") for svg in svgs]
    assert measured(tmp_path, plain) == []


@not_quick
@pytest.mark.skipif(BROWSER is None, reason="no browser to measure with")
def test_the_measure_sees_a_cover_and_a_word_off_the_sheet(tmp_path):
    bad = (
        '<svg xmlns="http://www.w3.org/2000/svg" id="bad" width="100" height="50">'
        '<text x="10" y="20">one word</text><text x="14" y="22">another</text>'
        '<text x="80" y="45">far too long</text></svg>'
    )
    told = measured(tmp_path, [bad])
    assert ["bad", "one word", "another"] in told
    assert ["bad", "off the sheet", "far too long"] in told
