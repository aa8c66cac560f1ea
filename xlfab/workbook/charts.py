"""Native charts, drawn so that they can be read in grey print: dark against light, values beside the bars."""

from __future__ import annotations

from typing import Any

from xlsxwriter.utility import xl_range_formula

from xlfab.workbook.style import FONT, INK, LINE, SERIES

TEXT = {"name": FONT, "size": 9, "color": INK}
WIDE, HALF = 680, 338  # pixels: a page upright, and half of it
_FILLS = ("#24506B", "#D98324", "#F6EBD2", "#4C7A97", "#B9C6CE")  # dark beside light: told apart in grey print


def bars(
    sheet_name: str,
    title: str,
    axis: str,
    labels: tuple[int, int, int, int],
    series: list[tuple[str, tuple[int, int, int, int]]],
    at: tuple[int, int],
    size: tuple[int, int],
    horizontal: bool = False,
    number_format: str = "#,##0",
    offset: int = 0,
) -> Any:
    """A bar chart over cells of one sheet. Ranges are (first row, first column, last row, last column)."""

    def draw(file: Any, sheet: Any) -> None:
        labelled = {"value": True, "num_format": number_format, "font": TEXT}
        chart = file.add_chart({"type": "bar" if horizontal else "column"})
        for number, (name, values) in enumerate(series):
            chart.add_series(
                {
                    "name": name,
                    "categories": [sheet_name, *labels],
                    "values": [sheet_name, *values],
                    "fill": {"color": _FILLS[number % len(_FILLS)]},
                    "border": {"color": INK, "width": 0.5},
                    "gap": 60,
                    **({"data_labels": labelled} if len(series) == 1 else {}),
                }
            )
        chart.set_title({"name": title, "name_font": {**TEXT, "size": 10, "bold": True}, "overlay": False})
        chart.set_x_axis(
            {
                "num_font": TEXT,
                "line": {"color": LINE},
                "label_position": "low",
                "name": axis if horizontal else "",
                "name_font": TEXT,
                "num_format": number_format if horizontal else "General",
            }
        )
        chart.set_y_axis(
            {
                "num_font": TEXT,
                "major_gridlines": {"visible": True, "line": {"color": LINE, "width": 0.5}},
                "reverse": horizontal,
                "label_position": "low",
                "name": "" if horizontal else axis,
                "name_font": TEXT,
                "num_format": "General" if horizontal else number_format,
                **({} if horizontal else {"min": 0}),
            }
        )
        chart.set_legend({"none": True} if len(series) == 1 else {"position": "bottom", "font": TEXT})
        chart.set_size({"width": size[0], "height": size[1]})
        chart.set_chartarea({"border": {"color": LINE}})
        sheet.insert_chart(at[0], at[1], chart, {"object_position": 2, "description": title, "x_offset": offset})

    return draw


Placed = tuple[str, tuple[int, int, int, int]]  # a sheet and its cells


def cash_lines(
    title: str,
    across: Placed,
    lines: list[tuple[str, Placed]],
    ends: list[Placed],
    banded: int,
    at: tuple[int, int],
    size: tuple[int, int],
) -> Any:
    """Cumulative cash of each option over the years, the name at the end of its line, and the band of one of them as thin lines."""
    dashes = ("solid", "dash", "square_dot", "long_dash", "long_dash_dot")

    def draw(file: Any, sheet: Any) -> None:
        chart = file.add_chart({"type": "scatter", "subtype": "straight"})
        last = across[1][2] - across[1][0]

        def add(name: str, values: Placed, **looks: Any) -> None:
            axes = {"categories": [across[0], *across[1]], "values": [values[0], *values[1]]}
            chart.add_series({"name": name, **axes, "marker": {"type": "none"}, **looks})

        for values in ends:
            thin = {"color": SERIES[banded % len(SERIES)], "width": 1, "dash_type": "round_dot"}
            add("8 cases in 10", values, line=thin)
        for number, (name, values) in enumerate(lines):
            label = {"series_name": True, "value": False, "position": "above", "font": {**TEXT, "bold": True}}
            label["custom"] = [{"delete": True}] * last
            line = {"color": SERIES[number % len(SERIES)], "width": 2.25, "dash_type": dashes[number % len(dashes)]}
            add(name, values, line=line, data_labels=label)
        _dress(chart, title)
        grid = {"visible": True, "line": {"color": LINE, "width": 0.5}}
        chart.set_x_axis(
            {"num_font": TEXT, "name": "year", "name_font": TEXT, "min": 0, "max": last, "label_position": "low"}
        )
        chart.set_y_axis({"num_font": TEXT, "num_format": "#,##0", "major_gridlines": grid})
        chart.set_legend({"none": True})
        chart.set_size({"width": size[0], "height": size[1]})
        sheet.insert_chart(at[0], at[1], chart, {"object_position": 2, "description": title})

    return draw


Cells = tuple[int, int, int, int]  # first row, first column, last row, last column
_DARK, _LIGHT = {"color": SERIES[0]}, {"color": "#D9E1E6"}


def tornado(sheet_name: str, title: str, axis: str, labels: Cells, low: Cells, high: Cells, at: tuple[int, int]) -> Any:
    """What each assumption does at its low and its high value, widest first: dark bars for low, light ones for high."""

    def draw(file: Any, sheet: Any) -> None:
        chart = file.add_chart({"type": "bar"})
        for name, values, fill in (("at the low value", low, _DARK), ("at the high value", high, _LIGHT)):
            chart.add_series(
                {
                    "name": name,
                    "categories": [sheet_name, *labels],
                    "values": [sheet_name, *values],
                    "fill": fill,
                    "border": {"color": INK, "width": 0.75},
                    "gap": 35,
                    "overlap": 100,
                }
            )
        _dress(chart, title)
        chart.set_x_axis(
            {"num_font": TEXT, "num_format": "#,##0", "name": axis, "name_font": TEXT, "line": {"color": LINE}}
        )
        chart.set_y_axis({"num_font": TEXT, "reverse": True, "label_position": "low", "line": {"color": INK}})
        chart.set_legend({"position": "bottom", "font": TEXT})
        rows = labels[2] - labels[0] + 1
        chart.set_size({"width": WIDE, "height": 110 + 24 * rows})
        sheet.insert_chart(at[0], at[1], chart, {"object_position": 2, "description": title})

    return draw


def histogram(
    sheet_name: str, title: str, axis: str, labels: Cells, values: Cells, at: tuple[int, int], offset: int = 0
) -> Any:
    """How often each span of values occurs; `offset` in pixels from the left edge of the cell."""

    def draw(file: Any, sheet: Any) -> None:
        chart = file.add_chart({"type": "column"})
        chart.add_series(
            {
                "categories": [sheet_name, *labels],
                "values": [sheet_name, *values],
                "fill": _DARK,
                "border": {"color": "#FFFFFF", "width": 0.5},
                "gap": 4,
            }
        )
        _dress(chart, title)
        chart.set_x_axis(
            {
                "num_font": {**TEXT, "rotation": -45},
                "name": axis,
                "name_font": TEXT,
                "num_format": "#,##0",
                "label_position": "low",
            }
        )
        chart.set_y_axis(
            {
                "num_font": TEXT,
                "name": "share of draws",
                "name_font": TEXT,
                "num_format": "0%",
                "major_gridlines": {"visible": True, "line": {"color": LINE, "width": 0.5}},
            }
        )
        chart.set_legend({"none": True})
        chart.set_size({"width": HALF, "height": 290})
        sheet.insert_chart(at[0], at[1], chart, {"object_position": 2, "description": title, "x_offset": offset})

    return draw


def waterfall(
    sheet_name: str, title: str, axis: str, labels: Cells, parts: tuple[Cells, Cells, Cells, Cells], at: tuple[int, int]
) -> Any:
    """Steps from one amount to another: an unseen base, what each step adds (dark), what it takes (light), the ends (grey)."""

    def draw(file: Any, sheet: Any) -> None:
        chart = file.add_chart({"type": "column", "subtype": "stacked"})
        looks: tuple[dict[str, Any], ...] = ({"none": True}, {"color": "#8C99A3"}, _DARK, _LIGHT)
        for name, values, fill in zip(("base", "total", "saves", "costs"), parts, looks, strict=True):
            chart.add_series(
                {
                    "name": name,
                    "categories": [sheet_name, *labels],
                    "values": [sheet_name, *values],
                    "fill": fill,
                    "border": {"none": True} if name == "base" else {"color": INK, "width": 0.75},
                    "gap": 40,
                }
            )
        _dress(chart, title)
        chart.set_x_axis({"num_font": {**TEXT, "rotation": -45}, "label_position": "low", "line": {"color": INK}})
        chart.set_y_axis(
            {
                "num_font": TEXT,
                "name": axis,
                "name_font": TEXT,
                "num_format": "#,##0",
                "major_gridlines": {"visible": True, "line": {"color": LINE, "width": 0.5}},
            }
        )
        chart.set_legend({"position": "bottom", "font": TEXT, "delete_series": [0]})
        chart.set_size({"width": WIDE, "height": 300})
        sheet.insert_chart(at[0], at[1], chart, {"object_position": 2, "description": title})

    return draw


def spread(sheet_name: str, title: str, axis: str, places: dict[str, Cells], at: tuple[int, int]) -> Any:
    """Boxes from the first to the third quartile, the median in each with its interval, and a line at 1."""

    def draw(file: Any, sheet: Any) -> None:
        chart = file.add_chart({"type": "column", "subtype": "stacked"})
        lines = file.add_chart({"type": "line"})
        labels = [sheet_name, *places["operation"]]

        def add(to: Any, name: str, words: str, **looks: Any) -> None:
            to.add_series({"name": words, "categories": labels, "values": [sheet_name, *places[name]], **looks})

        ends = {f"{side}_values": _range(sheet_name, places[f"{side}_ratio"]) for side in ("plus", "minus")}
        interval = {"type": "custom", **ends, "line": {"color": INK, "width": 2}}
        mark = {"type": "diamond", "size": 8, "fill": {"color": SERIES[1]}, "border": {"color": INK}}
        said = {"value": True, "position": "right", "num_format": "0.00", "font": {**TEXT, "bold": True}}
        add(chart, "base_ratio", "base", fill={"none": True}, border={"none": True}, gap=120)
        add(chart, "half_ratio", "middle half of the lots", fill=_LIGHT, border={"color": INK, "width": 0.75})
        add(lines, "one_ratio", "as estimated", line={"color": INK, "width": 1.25, "dash_type": "dash"})
        shown = {"marker": mark, "data_labels": said, "y_error_bars": interval}
        add(lines, "median_ratio", "median with its interval", line={"none": True}, **shown)
        chart.combine(lines)
        _dress(chart, title)
        chart.set_x_axis({"num_font": TEXT, "label_position": "low", "line": {"color": INK}})
        grid = {"visible": True, "line": {"color": LINE, "width": 0.5}}
        chart.set_y_axis(
            {
                "num_font": TEXT,
                "num_format": "0.0",
                "name": axis,
                "name_font": TEXT,
                "min": 0,
                "major_gridlines": grid,
            }
        )
        chart.set_legend({"position": "bottom", "font": TEXT, "delete_series": [0]})
        chart.set_size({"width": WIDE, "height": 340})
        sheet.insert_chart(at[0], at[1], chart, {"object_position": 2, "description": title})

    return draw


def _range(sheet_name: str, cells: Cells) -> str:
    return "=" + xl_range_formula(sheet_name, *cells)


def _dress(chart: Any, title: str) -> None:
    chart.set_title({"name": title, "name_font": {**TEXT, "size": 10, "bold": True}, "overlay": False})
    chart.set_chartarea({"border": {"color": LINE}})
    chart.show_hidden_data()  # a fold must not empty a chart
