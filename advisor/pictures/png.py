"""Pictures as PNG, for pages that cannot show SVG; the letters come with the program, so no system
font is needed.
"""

from __future__ import annotations

from pathlib import Path


def png(svg: str, zoom: float = 1.6) -> bytes:
    """SVG as PNG bytes at `zoom` times its size in drawing units."""
    import font_lato
    import resvg_py

    # Looking through the system's fonts takes ten times as long as the drawing; only letters Lato
    # lacks need them.
    rare = any(ord(c) > 0x24F and not 0x2010 <= ord(c) <= 0x2044 for c in svg)
    files = Path(font_lato.__file__).parent / "files"
    fonts = [str(files / name) for name in ("Lato-Regular.ttf", "Lato-Bold.ttf")]
    return bytes(
        resvg_py.svg_to_bytes(
            svg_string=svg,
            zoom=zoom,
            font_files=fonts,
            sans_serif_family="Lato",
            background="#ffffff",
            skip_system_fonts=not rare,
        )
    )
