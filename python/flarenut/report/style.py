"""How a build sheet looks: on a screen, on a telephone and on paper. Nothing is fetched; black on white."""

from ..results.finding import SEVERITY_COLOURS
from .markup import style_text

INK, QUIET, LINK, RULE, SHADE, PAPER = "#1b1f23", "#4a5158", "#0b4f94", "#8a929a", "#f1f3f5", "#ffffff"

_SCREEN = f"""
:root {{ color-scheme: light; }}
* {{ box-sizing: border-box; }}
body {{ margin: 0; background: {PAPER}; color: {INK}; font: 16px/1.5 system-ui, "Liberation Sans", Arial, sans-serif; overflow-wrap: break-word; }}
header, main, footer {{ max-width: 68rem; margin: 0 auto; padding: 0 1.25rem; }}
header {{ padding-top: 1.25rem; }}
h1 {{ font-size: 1.9rem; line-height: 1.2; margin: 0 0 .4rem; }}
h2 {{ font-size: 1.35rem; line-height: 1.25; margin: 2.4rem 0 .6rem; padding-top: .5rem; border-top: 2px solid {INK}; }}
h3 {{ font-size: 1.12rem; line-height: 1.3; margin: 1.7rem 0 .5rem; }}
p, ul, ol, dl {{ margin: .5rem 0; }}
a {{ color: {LINK}; }}
a:focus-visible, .scroll:focus-visible {{ outline: 3px solid {LINK}; outline-offset: 2px; }}
.kicker {{ margin: 0; font-weight: 600; color: {QUIET}; }}
.estimate {{ border: 2px solid {INK}; padding: .5rem .8rem; font-weight: 600; }}
.verdict {{ font-size: 1.1rem; font-weight: 600; }}
.quiet, .notes {{ color: {QUIET}; font-size: .9rem; }}
.notes {{ padding-left: 1.1rem; }}
.notes li {{ margin: .15rem 0; }}
nav ul {{ list-style: none; padding: 0; display: flex; flex-wrap: wrap; gap: .1rem 1.1rem; }}
nav a {{ display: inline-block; padding: .3rem 0; }}
.facts {{ display: grid; grid-template-columns: max-content 1fr; gap: .15rem 1.2rem; }}
.facts dt {{ color: {QUIET}; }}
.facts dd {{ margin: 0; font-variant-numeric: tabular-nums; }}
.findings {{ list-style: none; padding: 0; }}
.findings li {{ border-left: 5px solid {RULE}; padding: .25rem 0 .25rem .7rem; margin: .55rem 0; }}
.findings p {{ margin: .15rem 0; }}
.badge {{ display: inline-block; min-width: 3.6em; text-align: center; border-radius: 3px; padding: 0 .45em; font-size: .85em; font-weight: 700; color: {PAPER}; }}
.scroll {{ overflow-x: auto; margin: .7rem 0; position: relative; }}
table {{ border-collapse: separate; border-spacing: 0; width: 100%; font-size: .92rem; line-height: 1.35; font-variant-numeric: tabular-nums; }}
table.middle {{ min-width: 36rem; }}
table.wide {{ min-width: 58rem; }}
caption {{ text-align: left; font-weight: 600; padding: .2rem 0; }}
th, td {{ text-align: left; vertical-align: top; padding: .28rem .55rem; border-bottom: 1px solid #d5d9dd; }}
thead th {{ border-bottom: 2px solid {INK}; vertical-align: bottom; }}
tbody th {{ font-weight: 400; }}
th[scope=rowgroup] {{ font-weight: 600; background: {SHADE}; }}
tbody th[scope=row] {{ min-width: 7rem; }}
th[scope=row] {{ background: {PAPER}; position: sticky; left: 0; }}
.right {{ text-align: right; }}
.tick {{ text-align: center; width: 3.2rem; }}
.tall th, .tall td {{ padding-top: .55rem; padding-bottom: .55rem; }}
.box {{ display: inline-block; width: 1.05em; height: 1.05em; border: 1.6px solid {INK}; border-radius: 2px; vertical-align: -.15em; background: {PAPER}; }}
.bad {{ font-weight: 700; }}
.ticks {{ list-style: none; padding: 0; }}
.ticks li {{ margin: .4rem 0; padding-left: 1.8em; text-indent: -1.8em; }}
.ticks .box {{ margin-right: .75em; text-indent: 0; }}
.sign {{ display: grid; grid-template-columns: 1fr 1fr; gap: 0 1.6rem; margin-top: 1rem; }}
.sign p {{ border-bottom: 1px solid {INK}; margin: 0; padding-top: 2rem; color: {QUIET}; font-size: .9rem; }}
.blank {{ display: inline-block; width: 4.2em; border-bottom: 1px solid {INK}; margin-left: .6em; }}
dd .blank {{ margin-left: 0; width: 9em; }}
.wholly {{ white-space: nowrap; }}
figure {{ margin: .7rem 0; }}
figure svg {{ display: block; max-width: 100% !important; height: auto !important; margin: 0 auto; }}
.large svg {{ max-width: none !important; }}
figcaption {{ color: {QUIET}; font-size: .9rem; }}
footer {{ margin-top: 2rem; padding-bottom: 2rem; }}
"""

_PHONE = """
@media (max-width: 42rem) {
  header, main, footer { padding-left: .9rem; padding-right: .9rem; }
  h1 { font-size: 1.5rem; }
  .facts { grid-template-columns: 1fr; gap: 0; }
  .facts dd { margin-bottom: .45rem; }
  .sign { grid-template-columns: 1fr; }
  tbody th[scope=row] { min-width: 6.5rem; max-width: 9rem; }
  figure svg { max-width: none !important; width: auto; }
}
"""

_PRINT = f"""
@media print {{
  html {{ font-size: 8pt; }}
  body {{ font-size: 8pt; line-height: 1.25; color: #000; }}
  header, main, footer {{ max-width: none; padding: 0; }}
  header p {{ margin: 1mm 0; }}
  h1 {{ font-size: 15pt; margin: 0; }}
  h2 {{ font-size: 11pt; margin: 3.5mm 0 1mm; padding-top: .8mm; border-top-width: 1px; }}
  h3 {{ font-size: 9.5pt; margin: 3mm 0 1mm; }}
  h2, h3, caption {{ break-after: avoid; }}
  p, ul, ol, dl, figure, .scroll {{ margin: 1mm 0; }}
  nav {{ display: none; }}
  a {{ color: inherit; text-decoration: none; }}
  .quiet, .notes, .kicker, figcaption, .facts dt, .sign p {{ color: #000; }}
  .estimate {{ border-width: 1px; padding: .8mm 1.5mm; }}
  .verdict {{ font-size: 9pt; }}
  .notes, figcaption, .quiet {{ font-size: 7pt; line-height: 1.2; }}
  .notes li, .findings p {{ margin: .2mm 0; }}
  .facts {{ grid-template-columns: max-content 1fr max-content 1fr; gap: .3mm 2.5mm; }}
  .findings li {{ padding: 0 0 0 1.5mm; margin: 1mm 0; border-left-width: 3px; }}
  .scroll {{ overflow: visible; }}
  table, table.middle, table.wide {{ min-width: 0; font-size: 7.2pt; line-height: 1.15; }}
  table.wide {{ font-size: 6.8pt; }}
  caption {{ padding: 0; }}
  th, td {{ padding: .3mm 1mm; overflow-wrap: break-word; }}
  .tall th, .tall td {{ padding-top: 1.2mm; padding-bottom: 1.2mm; }}
  thead th, td.right {{ overflow-wrap: normal; }}
  tbody th[scope=row] {{ position: static; min-width: 0; }}
  th[scope=rowgroup] {{ background: none; }}
  thead {{ display: table-header-group; }}
  tr, li, figure, .estimate, .sign, .facts {{ break-inside: avoid; }}
  thead + tbody tr:first-child, thead + tbody tr:nth-child(2), tbody th[scope=rowgroup] {{ break-before: avoid; }}
  h2.circuit {{ border-top-width: 2px; }}
  h2 + p {{ break-after: avoid; }}
  tr.group {{ break-after: avoid; }}
  .badge {{ color: #000 !important; background: none !important; border: 1px solid #000; }}
  .findings li {{ border-left-color: #000 !important; }}
  .ticks li {{ margin: .8mm 0; }}
  .sign {{ margin-top: 1mm; }}
  .sign p {{ padding-top: 6mm; }}
  figure svg, .large svg {{ max-width: 100% !important; max-height: 110mm; width: auto; }}
  .lying {{ page: lying; }}
  .lying svg {{ max-height: 155mm; }}
}}
@page {{ margin: 10mm 10mm 13mm; }}
@page lying {{ size: landscape; }}
"""


def style_of(name: str, estimate: str) -> str:
    """The whole style sheet; every printed page bears the name, the estimate and its number."""
    small = "font: 7.5pt system-ui, Arial, sans-serif; color: #000;"
    margins = (f'@page {{ @bottom-left {{ content: "{style_text(name)}"; {small} }} @bottom-center {{ content: "{style_text(estimate)}"; {small} }} '
               f'@bottom-right {{ content: counter(page) " / " counter(pages); {small} }} }}')
    badges = "".join(f".{severity} {{ border-left-color: {colour} !important; }} .{severity} .badge {{ background: {colour}; }}\n"
                     for severity, colour in SEVERITY_COLOURS.items())
    return f"{_SCREEN}{badges}{_PHONE}{_PRINT}{margins}\n"
