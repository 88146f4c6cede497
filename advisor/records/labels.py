"""Labels to print: the mark, the next examination and a QR code of the mark; for what is out of use
a DO NOT USE tag.
"""

from __future__ import annotations

import io
from collections.abc import Iterable
from datetime import date
from html import escape

from advisor.records.card import Card
from advisor.records.dates import in_words
from advisor.records.shown import RETIRED, due, standing_of

PAGE = """<!doctype html>
<html lang="en"><meta charset="utf-8"><title>Labels</title>
<style>
body {{ font: 9.5pt/1.2 sans-serif; margin: 10mm; display: flex; flex-wrap: wrap; gap: 4mm }}
section {{ width: 58mm; height: 30mm; border: .3mm solid #000; padding: 2mm; display: flex;
  gap: 2mm; overflow: hidden; break-inside: avoid; box-sizing: border-box }}
section.out {{ border-width: 1.2mm }}
h2 {{ font-size: 15pt; margin: 0; overflow-wrap: anywhere }} p {{ margin: .6mm 0 0 }}
svg {{ width: 22mm; height: 22mm; flex: none }}
</style>
{labels}
</html>
"""
LABEL = """<section{out}>{code}<div><h2>{mark}</h2><p>{what}</p><p>{next}</p></div></section>"""


def page(cards: Iterable[Card]) -> str:
    """A page of labels as HTML."""
    return PAGE.format(labels="\n".join(map(_label, cards)))


def _label(card: Card) -> str:
    state, then = standing_of(card), due(card)
    out = state in (RETIRED, "set aside")
    told = f"<b>DO NOT USE</b>: {escape(state)}" if out else _next(then.day if then else None)
    return LABEL.format(
        out=' class="out"' if out else "",
        code=code_of(card.mark),
        mark=escape(card.mark),
        what=escape(card.type),
        next=told,
    )


def _next(day: date | None) -> str:
    return f"examine by {in_words(day)}" if day else "examine before use"


def code_of(mark: str) -> str:
    """The QR code of a mark as SVG."""
    import segno

    drawn = io.BytesIO()
    segno.make(mark, error="m", micro=False).save(
        drawn, kind="svg", xmldecl=False, svgns=False, omitsize=True
    )
    return drawn.getvalue().decode()
