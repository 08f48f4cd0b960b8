"""All causes against all findings on one page that scrolls both ways: which state each cause shows, and how strongly.

In: names and strengths. Out: one HTML page, light and dark, its heads always in sight. A cell says its share as a
number and its state to whoever points at it or has it read out; the shade only repeats the number.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from html import escape
from typing import Final

STYLE: Final = """
:root{color-scheme:light dark;--paper:#fff;--ink:#1d2a2a;--dim:#4c5858;--rule:#d5dcdc;--mark:11 107 99}
@media(prefers-color-scheme:dark){:root{--paper:#14191a;--ink:#e6ecec;--dim:#aab5b5;--rule:#333d3e;--mark:92 196 186}}
body{margin:0;background:var(--paper);color:var(--ink);font:13px sans-serif}
h1{font-size:16px;margin:12px 16px 2px}p{margin:0 16px 10px;color:var(--dim);max-width:70ch}
div{overflow:auto;height:calc(100vh - 92px);border-top:1px solid var(--rule)}
table{border-collapse:separate;border-spacing:0}
td{min-width:30px;height:22px;text-align:center;border-right:1px solid var(--rule);border-bottom:1px solid var(--rule);
background:rgb(var(--mark)/calc(var(--share)*.55))}td:empty{background:none}
th{background:var(--paper);font-weight:normal}
thead th{position:sticky;top:0;z-index:2;height:150px;vertical-align:bottom;border-bottom:2px solid var(--dim)}
thead th span{writing-mode:vertical-rl;transform:rotate(180deg);max-height:142px;overflow:hidden;white-space:nowrap}
tbody th{position:sticky;left:0;z-index:1;text-align:right;padding:0 8px;white-space:nowrap;border-right:2px solid var(--dim);
border-bottom:1px solid var(--rule)}thead th:first-child{left:0;z-index:3;text-align:right;padding:0 8px 4px}
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """What a cause shows of a finding: its most telling state, and how often."""

    state: str
    share: float
    all_states: str
    """Every state with its share, for who points at it."""


def draw_matrix(
    rows: Mapping[str, str], columns: Mapping[str, str], cells: Mapping[tuple[str, str], Cell], heading: str
) -> str:
    """The page; `rows` and `columns` give each id its words, in order.

    >>> page = draw_matrix({"c": "dirty filter"}, {"f": "filter"}, {("c", "f"): Cell(state="clogged", share=0.9, all_states="clogged 90 %")}, "All")
    >>> 'title="dirty filter, filter: clogged 90 %">90</td>' in page
    True
    """
    head = "".join(
        f'<th scope="col" title="{escape(words)}"><span>{escape(id_)}</span></th>'
        for id_, words in columns.items()
    )
    body = "".join(_row(id_, words, columns, cells) for id_, words in rows.items())
    told = f"{len(rows)} causes, {len(columns)} findings, {len(cells)} links. A number is how often of a hundred the cause shows the state."
    return (
        f'<!doctype html><html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width">'
        f"<title>{escape(heading)}</title><style>{STYLE}</style></head><body><h1>{escape(heading)}</h1><p>{told}</p>"
        f'<div tabindex="0" role="region" aria-label="{escape(heading)}"><table><thead><tr><th scope="col">cause</th>{head}</tr></thead>'
        f"<tbody>{body}</tbody></table></div></body></html>"
    )


def _row(id_: str, words: str, columns: Mapping[str, str], cells: Mapping[tuple[str, str], Cell]) -> str:
    row = "".join(_cell(words, columns[column], cells.get((id_, column))) for column in columns)
    return f'<tr><th scope="row" title="{escape(words)}">{escape(id_)}</th>{row}</tr>'


def _cell(row: str, column: str, cell: Cell | None) -> str:
    if cell is None:
        return "<td></td>"
    label = f"{row}, {column}: {cell.all_states}"
    return f'<td style="--share:{cell.share:.2f}" title="{escape(label)}">{cell.share * 100:.0f}</td>'


def most_telling(strengths: Mapping[str, float], usual: Sequence[tuple[str, float]]) -> str:
    """The state whose share differs most from the usual; ties go to the first.

    >>> most_telling({"clean": 0.9, "clogged": 0.1}, [("clean", 0.88), ("clogged", 0.02)])
    'clogged'
    """
    background = dict(usual)
    return max(strengths, key=lambda state: (round(abs(strengths[state] - background.get(state, 0.0)), 9),))
