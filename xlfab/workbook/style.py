"""How sheets look: number formats by unit, and the few cell styles. Colours are told apart in grey print too."""

from __future__ import annotations

from typing import Any, ClassVar

from xlfab.core.units import Unit

FONT = "Arial"
INK, MUTED, LINE = "#1F2933", "#5B6670", "#B8C1C8"
HEAD, BAND, INPUT_FILL, INPUT_INK = "#24506B", "#E8EEF1", "#FFF6D6", "#123A8C"
GOOD, BAD = "#DDEFD9", "#F6D4CC"
TABS = {"result": "#D98324", "desk": "#7A1FA2", "input": "#E8C547", "calc": "#B8C1C8", "about": HEAD}
TAB_WORDS = {"result": "answers", "desk": "desk", "input": "inputs", "calc": "workings", "about": "evidence"}
SERIES = ("#24506B", "#D98324", "#7BA05B", "#8C6BB1", "#5B6670", "#B0413E")

_DECIMALS = {
    "mm": "0.0",
    "in": "0.000",
    "s": "0.00",
    "min": "0.0",
    "h": "#,##0.0",
    "h_per_year": "#,##0.0",
    "kwh": "[>=100]#,##0;0.000",
    "share": "0.0%",
    "ratio": "0.000",
    "count": "[=0]0;[<1]0.00;#,##0",
    "switch": "0",
    "year": "0",
    "years": "0.0",
    "cur": "#,##0.00",
    "cur_per_year": "#,##0",
    "cur_per_h": "#,##0.00",
    "cur_per_kwh": "0.0000",
    "kg": "#,##0.00",
    "lb": "#,##0.00",
    "mpa": "0",
    "ksi": "0.0",
    "deg": "0.0",
    "kg_per_m3": "#,##0",
    "kg_per_year": "#,##0",
    "lb_per_year": "#,##0",
    "mm_s3": "#,##0",
    "mm_s2": "#,##0",
}


_LARGE = {"s": "0.0", "share": "0%"}  # what a page says in large figures
_TAB_KINDS: dict[str, dict[str, Any]] = {
    f"tab_{name}": {"bold": True, "bg_color": color, "font_color": "#FFFFFF" if name in ("desk", "about") else INK}
    for name, color in TABS.items()
}


def number_format(unit: Unit | None) -> str:
    """The number format of a unit; General for text."""
    if unit is None:
        return "General"
    return _DECIMALS.get(unit.suffix, "#,##0.00")


def shown_format(unit: Unit | None, zero: str = "", kind: str = "") -> str:
    """The number format of a cell of a kind; `kind|0` shows whole numbers, `zero` are the words for a 0."""
    kind, _, whole = kind.partition("|")
    form = "#,##0" if whole and unit is not None else number_format(unit)
    if kind in ("big", "figure") and unit is not None and not whole:
        form = _LARGE.get(unit.suffix, form)
    return f'{form};-{form};"{zero}"' if zero else form


class Styles:
    """Cell formats of one workbook, made once for each combination of properties."""

    _BASE: ClassVar[dict[str, dict[str, Any]]] = {
        "title": {"bold": True, "font_size": 16, "font_color": HEAD},
        "subtitle": {"bold": True, "font_size": 11, "font_color": HEAD, "bottom": 1, "bottom_color": HEAD},
        "text": {},
        "question": {"bold": True, "font_size": 16, "font_color": HEAD, "text_wrap": True, "valign": "vcenter"},
        "named": {"bold": True, "text_wrap": True, "valign": "vcenter", "bottom": 1, "bottom_color": LINE},
        "big": {
            "bold": True,
            "font_size": 18,
            "font_color": HEAD,
            "align": "center",
            "bottom": 1,
            "bottom_color": LINE,
        },
        "figure": {"bold": True, "font_size": 10, "align": "center", "bottom": 1, "bottom_color": LINE},
        "line_label": {"border": 1, "border_color": LINE},
        "verdict_small": {"bold": True, "bg_color": BAND, "text_wrap": True, "border": 1, "border_color": HEAD},
        "banner_line": {"bold": True, "bg_color": INPUT_FILL, "border": 1, "border_color": INK},
        "caution": {"font_color": INK, "text_wrap": True, "valign": "top"},
        "wrap": {"text_wrap": True, "valign": "top"},
        "note": {"font_color": MUTED, "italic": True, "text_wrap": True, "valign": "top"},
        "head": {
            "bold": True,
            "font_color": "#FFFFFF",
            "bg_color": HEAD,
            "text_wrap": True,
            "valign": "vcenter",
            "border": 1,
            "border_color": LINE,
        },
        "group": {
            "bold": True,
            "font_color": HEAD,
            "bg_color": BAND,
            "align": "center",
            "text_wrap": True,
            "valign": "vcenter",
            "border": 1,
            "border_color": LINE,
        },
        "link": {"font_color": INPUT_INK, "underline": 1},
        "remark": {"font_color": MUTED, "text_wrap": True, "valign": "vcenter"},
        "default": {"font_color": MUTED, "border": 1, "border_color": LINE, "align": "right"},
        "unit": {"font_color": MUTED, "bg_color": BAND, "border": 1, "border_color": LINE},
        "input": {"bg_color": INPUT_FILL, "font_color": INPUT_INK, "locked": False, "border": 1, "border_color": LINE},
        "good": {"bg_color": GOOD},
        "bad": {"bg_color": BAD, "bold": True},
        "none": {"font_color": "#FFFFFF"},
        "calc": {"border": 1, "border_color": LINE},
        "line": {},
        "fixed": {"border": 1, "border_color": LINE, "font_color": MUTED, "italic": True, "text_wrap": True},
        "label": {"border": 1, "border_color": LINE, "text_wrap": True, "valign": "vcenter"},
        "strong": {"border": 1, "border_color": LINE, "bold": True, "bg_color": BAND},
        "strong_label": {
            "border": 1,
            "border_color": LINE,
            "bold": True,
            "bg_color": BAND,
            "text_wrap": True,
            "valign": "vcenter",
        },
        "total": {"bold": True, "font_size": 11, "top": 2, "top_color": HEAD, "valign": "vcenter"},
        "shop": {"bold": True, "font_size": 13, "font_color": HEAD},
        "said": {"text_wrap": True, "valign": "top"},
        "asked": {"font_color": MUTED, "valign": "top"},
        "banner": {
            "bold": True,
            "font_size": 11,
            "bg_color": INPUT_FILL,
            "text_wrap": True,
            "valign": "vcenter",
            "border": 2,
            "border_color": INK,
        },
        "verdict": {
            "bold": True,
            "font_size": 12,
            "bg_color": BAND,
            "text_wrap": True,
            "valign": "vcenter",
            "border": 1,
            "border_color": HEAD,
        },
    }

    def __init__(self, book: Any) -> None:
        self._book = book
        self._made: dict[tuple[str, str, str], Any] = {}
        self.differs = book.add_format({"bold": True, "bg_color": "#FFD98A"})
        self.ruled = book.add_format({"border": 1, "border_color": LINE})  # laid over a cell by a condition

    def __call__(self, kind: str, unit: Unit | None = None, align: str = "", zero: str = "") -> Any:
        """The format of a kind of cell, with the number format of a unit; `kind|0` shows whole numbers, `zero` are the words for a 0."""
        form = shown_format(unit, zero, kind)
        kind = kind.partition("|")[0]
        if unit is not None and kind in ("calc", "strong", "fixed"):
            align = align or "right"  # words in place of a figure stand where the figure would stand
        key = (kind, form, align)
        if key not in self._made:
            properties = {
                "font_name": FONT,
                "font_size": 9,
                "font_color": INK,
                "valign": "vcenter",
                "num_format": form,
                **(self._BASE[kind] if kind in self._BASE else _TAB_KINDS[kind]),
            }
            if align:
                properties["align"] = align
            elif kind in (
                "calc",
                "input",
            ):  # words keep off the numbers before them; in a column of numbers they stand as numbers do
                properties |= {"align": "left", "indent": 1} if unit is None else {"align": "right"}
            self._made[key] = self._book.add_format(properties)
        return self._made[key]
