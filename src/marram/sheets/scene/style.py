"""Patterns and line styles of a drawing, for a palette."""

from __future__ import annotations

from html import escape

from marram.sheets.scene.palette import Palette


def definitions(p: Palette) -> str:
    """Patterns: one hatch or texture for each kind of ground, so that nothing is told by colour alone."""
    return f"""<defs>
<pattern id="t-relief" width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><rect width="7" height="7" fill="{p.wash}" fill-opacity=".10"/><path d="M0 0V7" stroke="{p.pencil}" stroke-width="1.5" stroke-opacity=".62"/></pattern>
<pattern id="t-second" width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(-45)"><rect width="7" height="7" fill="{p.wash}" fill-opacity=".06"/><path d="M0 0V7" stroke="{p.pencil}" stroke-width="1" stroke-opacity=".5"/></pattern>
<pattern id="t-gur" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(-45)"><path d="M0 0V6" stroke="{p.blue}" stroke-width="2.2"/></pattern>
<pattern id="t-tw" width="22" height="12" patternUnits="userSpaceOnUse"><path d="M0 6q5.5-5 11 0t11 0" fill="none" stroke="{p.blue}" stroke-width="1.3"/></pattern>
<pattern id="t-sand" width="9" height="9" patternUnits="userSpaceOnUse"><circle fill="{p.sand_line}" cx="2" cy="2" r=".9"/><circle fill="{p.sand_line}" cx="6.6" cy="5.8" r=".7"/></pattern>
<pattern id="t-path" width="7" height="7" patternUnits="userSpaceOnUse"><circle fill="{p.path_line}" cx="1.5" cy="1.6" r=".55"/><circle fill="{p.path_line}" cx="5" cy="4.8" r=".55"/></pattern>
<pattern id="t-rough" width="52" height="44" patternUnits="userSpaceOnUse"><path fill="none" stroke="{p.rough_line}" d="M9 14l-2-4M9 14v-5M9 14l2-4M36 36l-2-4M36 36v-5M36 36l2-4"/></pattern>
<pattern id="t-fair" width="8" height="8" patternUnits="userSpaceOnUse" patternTransform="rotate(14)"><path stroke="{p.fairway_line}" stroke-width="1" d="M0 4H8"/></pattern>
<pattern id="t-green" width="6" height="6" patternUnits="userSpaceOnUse"><circle fill="{p.green_line}" fill-opacity=".75" cx="3" cy="3" r=".7"/></pattern>
<pattern id="t-trees" width="16" height="16" patternUnits="userSpaceOnUse"><circle fill="none" stroke="{p.green_line}" cx="5" cy="5" r="3.4"/><circle fill="none" stroke="{p.green_line}" cx="12" cy="12" r="2.6"/></pattern>
<pattern id="t-oob" width="14" height="14" patternUnits="userSpaceOnUse"><path stroke="{p.ink_2}" stroke-opacity=".75" d="M4 4l5 5M9 4l-5 5"/></pattern>
<pattern id="t-npz" width="8" height="8" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><path stroke="{p.ink}" stroke-width="1.1" d="M0 0V8M0 0H8"/></pattern>
</defs>"""


def sheet_of(p: Palette) -> str:
    """The style sheet of a drawing."""
    return f"""<style>
text{{font-family:{p.board_font};fill:{p.ink};font-variant-numeric:lining-nums tabular-nums}}
.rough{{fill:{p.rough}}}.fairway{{fill:{p.fairway}}}
.green{{fill:{p.green};stroke:{p.green_line};stroke-width:1.5}}.wrong{{stroke-dasharray:7 4}}
.tee{{fill:{p.green};stroke:{p.green_line};stroke-width:1.2}}.trees{{fill:{p.fairway};stroke:{p.green_line};stroke-width:.8}}
.bunker{{fill:{p.sand};stroke:{p.sand_line};stroke-width:1.5;stroke-dasharray:2 2}}
.path{{fill:{p.path};stroke:{p.path_line};stroke-width:1.2}}.wall{{fill:{p.path_line};stroke:{p.ink};stroke-width:1}}
.gur{{fill:url(#t-gur);stroke:{p.blue};stroke-width:2.4;stroke-dasharray:9 3}}
.tw{{fill:url(#t-tw);stroke:{p.blue};stroke-width:2;stroke-dasharray:9 3 2 3}}
.burrow{{fill:{p.path};stroke:{p.ink};stroke-width:1.2;stroke-dasharray:3 2}}
.npz{{fill:url(#t-npz);stroke:{p.ink};stroke-width:1.6}}.dz{{fill:{p.sheet};stroke:{p.ink};stroke-width:2.4}}
.oob{{fill:url(#t-oob)}}.water{{fill:{p.water}}}.shore{{fill:none;stroke:{p.water_line};stroke-width:.8}}
.red-case{{fill:none;stroke:{p.sheet};stroke-width:7}}.red{{fill:none;stroke:{p.red};stroke-width:3}}
.stud-red{{fill:{p.red};stroke:{p.sheet};stroke-width:1.5}}
.yellow-case{{fill:none;stroke:{p.ink};stroke-width:6}}.yellow{{fill:none;stroke:{p.yellow};stroke-width:3.4;stroke-dasharray:12 5}}
.stud-yellow{{fill:{p.yellow};stroke:{p.ink};stroke-width:1.5}}.unmarked{{fill:none;stroke:{p.ink};stroke-width:2;stroke-dasharray:6 6}}
.bound-case{{fill:none;stroke:{p.ink};stroke-width:6}}.bound{{fill:none;stroke:#fff;stroke-width:3.2}}.tick{{stroke:{p.ink};stroke-width:1.6}}
.relief{{fill:url(#t-relief);stroke:{p.pencil};stroke-width:2.5;stroke-linejoin:round}}
.fan{{fill:{p.wash};fill-opacity:.09;stroke:{p.pencil};stroke-width:.8;stroke-dasharray:3 3}}
.estimate{{fill:none;stroke:{p.pencil};stroke-width:1.8;stroke-dasharray:2 4}}
.common{{fill:{p.wash};fill-opacity:.22;stroke:none}}
.second{{fill:url(#t-second);stroke-width:1.8}}
.other-case{{fill:none;stroke:{p.sheet};stroke-width:4.4;stroke-opacity:.85}}
.other{{fill:none;stroke:{p.pencil};stroke-width:2.2;stroke-dasharray:10 5}}
.third{{fill:none;stroke:{p.pencil};stroke-width:2.4;stroke-dasharray:.1 5;stroke-linecap:round}}
.arc-case{{fill:none;stroke:{p.sheet};stroke-width:4;stroke-opacity:.8}}
.arc{{fill:none;stroke:{p.pencil};stroke-width:1.6;stroke-dasharray:14 4 2 4}}
.back{{fill:none;stroke:{p.pencil};stroke-width:2}}.barred{{stroke-width:1.4;stroke-dasharray:2 5}}
.toward{{fill:none;stroke:{p.ink_2};stroke-width:1;stroke-dasharray:5 4}}
.flight{{fill:none;stroke:{p.ink};stroke-width:1.6;stroke-dasharray:.1 5;stroke-linecap:round}}
.foot{{fill:{p.sheet};fill-opacity:.7;stroke:{p.ink};stroke-width:1.2}}
.ball{{fill:#fff;stroke:#16120d;stroke-width:2}}
.touch-case{{fill:none;stroke:{p.sheet};stroke-width:5}}.touch{{fill:none;stroke:{p.ink};stroke-width:2}}.not{{fill:none;stroke:{p.ink};stroke-width:2.2}}
.chosen{{fill:{p.pencil};stroke:{p.sheet};stroke-width:1.5}}.cup,.cloth{{fill:{p.ink}}}.staff{{stroke:{p.ink};stroke-width:2}}
.st-case{{fill:{p.sheet}}}.st-ring{{fill:none;stroke:{p.pencil};stroke-width:2}}.st-cross{{stroke:{p.pencil};stroke-width:1.5}}.st-dot{{fill:{p.pencil}}}
.dim{{stroke:{p.pencil};stroke-width:1.5;fill:none}}.dim-case{{stroke:{p.sheet};stroke-width:4.5;stroke-opacity:.85;fill:none}}
.dim-end{{stroke:{p.pencil};stroke-width:2.2}}.leader,.arrow{{stroke:{p.ink};stroke-width:1.1;fill:none}}
.lab{{font-size:13px;paint-order:stroke;stroke:{p.sheet};stroke-width:3.5px;stroke-linejoin:round}}
.pencil{{fill:{p.pencil}}}.ground{{font-family:{p.book_font};font-style:italic;font-size:14.5px}}
.book{{fill:{p.pencil};font-weight:700;stroke-width:4px}}
.tag rect{{fill:{p.pencil};stroke:{p.sheet};stroke-width:1.5}}.tag text{{fill:{p.sheet};font-size:14.5px;font-weight:700}}
.neat{{fill:none;stroke:{p.ink};stroke-width:1.5}}.neat2{{fill:none;stroke:{p.ink};stroke-width:.75}}.mark{{stroke:{p.ink};stroke-width:1}}
.coord{{font-size:12px;fill:{p.ink_2}}}.cross{{stroke:{p.ink};stroke-width:.8;stroke-opacity:.4}}
.plate{{fill:{p.sheet};stroke:{p.ink};stroke-width:1.2}}.bar1{{fill:{p.ink};stroke:{p.ink}}}.bar0{{fill:{p.sheet};stroke:{p.ink}}}
.proof{{stroke:{p.ink};stroke-width:1.1;fill:none}}.small{{font-size:12px}}.head{{font-size:12px;font-weight:600;letter-spacing:.06em}}
.t1{{font-family:{p.book_font};font-size:28px}}.t2{{font-family:{p.book_font};font-size:18px;font-weight:600}}
.t3{{font-family:{p.book_font};font-size:15px}}.t4{{font-size:13px;fill:{p.ink_2}}}.hair{{stroke:{p.rule};stroke-width:1}}.line1{{stroke:{p.ink};stroke-width:1}}
.line3{{stroke:{p.ink};stroke-width:3}}.page{{fill:{p.sheet}}}
</style>"""


def page_of(body: list[str], palette: Palette, width: float, height: float, *, size: str, title: str, words: str = "") -> str:
    """A whole SVG file.

    Args:
        body: The marks.
        palette: The inks.
        width: Width in drawing units.
        height: Height in drawing units.
        size: Width and height as the file states them, with their unit.
        title: What the drawing is called.
        words: What it shows, for those who cannot see it.
    """
    head = f'<svg xmlns="http://www.w3.org/2000/svg" {size} viewBox="0 0 {width:.2f} {height:.2f}" role="img" lang="en">'
    parts = [
        head,
        f"<title>{escape(title)}</title>",
        *([f"<desc>{escape(words)}</desc>"] if words else []),
        sheet_of(palette),
        definitions(palette),
        f'<rect class="page" width="{width:.2f}" height="{height:.2f}"/>',
        *body,
        "</svg>",
    ]
    return "\n".join(parts) + "\n"
