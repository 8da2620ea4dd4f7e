"""The look of a printed edition: the colours of the pages on a screen, black on white on paper.

No file is fetched: letters are those of the reader's machine. Page numbers come by @page, where a browser knows it.
"""

from dashboards import theme

_SCREEN = f"""
:root {{ color-scheme: light; }}
* {{ box-sizing: border-box; }}
body {{ margin: 0; background: {theme.PAPER}; color: {theme.INK}; font: 1rem/1.5 {theme.LETTERS}; }}
h1, h2, h3, h4 {{ font-family: Georgia, serif; font-weight: 600; line-height: 1.2; margin: 0; }}
h1 {{ font-size: 2.1rem; }}
h2 {{ font-size: 1.6rem; margin: 3.5rem 0 1rem; padding-bottom: .3rem; border-bottom: 3px solid {theme.SPRUCE}; }}
h3 {{ font-size: 1.25rem; margin: 2.2rem 0 .6rem; }}
h4 {{ font-size: 1.05rem; margin: 1.4rem 0 .4rem; color: {theme.SPRUCE}; }}
header {{ background: {theme.NIGHT}; color: {theme.MIST}; padding: 2.2rem 0 1.8rem; }}
header p {{ margin: .4rem 0 0; }}
.page {{ max-width: 74rem; margin: 0 auto; padding: 0 1.25rem; }}
main.page {{ padding-bottom: 4rem; }}
p {{ max-width: 46rem; overflow-wrap: anywhere; }}
dl.facts {{ display: grid; grid-template-columns: max-content 1fr; gap: .2rem 1.2rem; margin: 1.5rem 0; }}
dl.facts dt {{ color: {theme.FADED}; }}
dl.facts dd {{ margin: 0; overflow-wrap: anywhere; min-width: 0; }}
.notice {{ background: {theme.NOTICE_TINT}; color: {theme.NOTICE_INK}; padding: .8rem 1rem; margin: 1rem 0; max-width: none; }}
nav ul {{ list-style: none; margin: 0; padding: 0; }}
nav > ul {{ columns: 18rem; column-gap: 2rem; }}
nav > ul > li {{ break-inside: avoid; padding-bottom: .6rem; }}
nav ul ul {{ padding-left: 1.3rem; }}
nav a {{ display: inline-block; padding: .2rem 0; color: {theme.SPRUCE}; overflow-wrap: anywhere; }}
/* a shade at the edge where a box goes on: the covers scroll with the table, the shades stay */
.box {{ overflow-x: auto; margin: .6rem 0 1.6rem; background:
  linear-gradient(to right, {theme.PAPER} 60%, transparent) left / 3rem 100% no-repeat local,
  linear-gradient(to left, {theme.PAPER} 60%, transparent) right / 3rem 100% no-repeat local,
  linear-gradient(to right, {theme.RULE}, transparent) left / 1rem 100% no-repeat scroll,
  linear-gradient(to left, {theme.RULE}, transparent) right / 1rem 100% no-repeat scroll; }}
.box:focus-visible, a:focus-visible {{ outline: 3px solid {theme.OCHRE}; outline-offset: 2px; }}
table {{ border-collapse: collapse; width: 100%; font-size: .95rem; font-variant-numeric: tabular-nums; }}
caption {{ text-align: left; color: {theme.FADED}; padding: 0 0 .4rem; font-size: .9rem;
  background: {theme.PAPER}; }}
caption span {{ display: inline-block; position: sticky; left: 0; max-width: min(70rem, 100vw - 2.5rem); }}
th, td {{ text-align: left; vertical-align: top; padding: .35rem .7rem .35rem 0; border-bottom: 1px solid {theme.RULE}; }}
td {{ overflow-wrap: break-word; }}
thead th {{ background: {theme.PANEL}; border-bottom: 2px solid {theme.SPRUCE}; white-space: nowrap; font-weight: 600; }}
th:first-child, td:first-child {{ padding-left: .5rem; }}
th.place, td.place {{ white-space: nowrap; color: {theme.SPRUCE}; width: 4.2rem; }}
th.length, td.length {{ text-align: right; white-space: nowrap; padding-right: 1.2rem; }}
th.short, td.short {{ white-space: nowrap; }}
td.name {{ min-width: 10.5rem; max-width: 18rem; }}
td.area {{ min-width: 8rem; }}
td.words {{ min-width: 16rem; }}
@media screen and (max-width: 40rem) {{
  .told thead {{ display: none; }}
  .told tr {{ display: block; padding: .5rem 0; border-bottom: 1px solid {theme.RULE}; }}
  .told th, .told td {{ display: inline; border: 0; padding: 0 .5rem 0 0; }}
  .told td.words {{ display: block; min-width: 0; padding-top: .2rem; overflow-wrap: anywhere; }}
  td.was::before {{ content: "place was "; }}
  td.is::before {{ content: "is "; }}
}}
ol.errata li {{ margin-bottom: .8rem; max-width: 46rem; overflow-wrap: anywhere; }}
"""
_PRINT = """
@page {{ margin: 18mm 14mm 20mm; @bottom-right {{ content: counter(page) " / " counter(pages); font: 9pt serif; }}
  @bottom-left {{ content: "Edition {name}"; font: 9pt serif; }} }}
@media print {{
  body, header, .notice, caption, thead th {{ background: #fff !important; color: #000 !important; }}
  body {{ font: 10pt/1.35 serif; }}
  *, nav a, caption, h4, th.place, dl.facts dt {{ color: #000 !important; }}
  header {{ padding: 0; }}
  .page {{ max-width: none; padding: 0; }}
  .notice {{ border: 1pt solid #000; }}
  .box {{ overflow: visible; background: none; margin: 4pt 0 12pt; }}
  table {{ font-size: 8.5pt; }}
  thead {{ display: table-header-group; }}
  thead th {{ border-bottom: 1pt solid #000; }}
  th, td {{ border-bottom: .4pt solid #000; padding: 2pt 6pt 2pt 0; }}
  th.place, td.place {{ width: auto; }}
  td.name, td.area, td.words {{ min-width: 0; }}
  caption span {{ max-width: none; }}
  tr, li, .notice {{ break-inside: avoid; }}
  h2 {{ break-before: page; border-bottom: 1.5pt solid #000; margin-top: 0; }}
  h2.on-this-page {{ break-before: auto; margin-top: 18pt; }}
  h2, h3, h4, caption {{ break-after: avoid; }}
  nav a {{ text-decoration: none; padding: 0; }}
}}
"""


def style(edition_name: str) -> str:
    """The style sheet; the edition's name stands at the foot of each printed page."""
    return _SCREEN + _PRINT.format(name="".join(map(_in_a_css_text, edition_name)))


def _in_a_css_text(sign: str) -> str:
    """The sign itself, or its code in the way of CSS, so that no sign can end the text it stands in."""
    return sign if sign.isalnum() else f"\\{ord(sign):x} "
