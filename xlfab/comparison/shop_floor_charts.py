"""Charts of the time model: steps stacked by what they go through, and curves over handling time."""

from __future__ import annotations

from typing import Any

from xlfab.workbook.charts import TEXT, WIDE
from xlfab.workbook.grid import Area
from xlfab.workbook.style import INK, LINE, SERIES

_RULERS = (("ram_ruled_s", "Ram"), ("gauge_ruled_s", "Gauge"), ("operator_ruled_s", "Operator"))


def step_chart(title: str, places: dict[str, tuple[str, Area]], at: tuple[int, int]) -> Any:
    """Stacked seconds of each step on the left axis, seconds saved by a faster ram on the right one."""

    def draw(file: Any, sheet: Any) -> None:
        chart = file.add_chart({"type": "column", "subtype": "stacked"})
        sheet_name, (first, column, last, _) = places["part"]
        labels = [sheet_name, first, column, last, column + 1]  # part and step
        for number, (name, word) in enumerate(_RULERS):
            series = {
                "name": f"Through the {word.lower()}",
                "categories": labels,
                "values": [places[name][0], *places[name][1]],
            }
            chart.add_series(
                {**series, "fill": {"color": SERIES[number]}, "border": {"color": INK, "width": 0.5}, "gap": 40}
            )
        line = file.add_chart({"type": "line"})
        line.add_series(
            {
                "name": "A faster ram saves (right axis)",
                "categories": labels,
                "values": [places["ram_saves_s"][0], *places["ram_saves_s"][1]],
                "y2_axis": True,
                "line": {"color": INK, "width": 1.5, "dash_type": "dash"},
                "marker": {"type": "diamond", "size": 5, "fill": {"color": INK}},
            }
        )
        chart.combine(line)
        _dress(chart, title, "Part and step", "s a step")
        line.set_y2_axis(
            {"name": "s saved a step", "name_font": TEXT, "num_font": TEXT, "num_format": "0.00", "min": 0}
        )
        chart.set_size({"width": WIDE, "height": 290})
        sheet.insert_chart(at[0], at[1], chart, {"object_position": 2, "description": title})

    return draw


def curves(
    title: str,
    sheet_name: str,
    across: Area,
    series: list[tuple[str, Area]],
    at: tuple[int, int],
    axes: tuple[str, str],
    across_to: float,
) -> Any:
    """Curves over one column of values, told apart in grey print by their dashes and markers."""
    dashes = ("solid", "dash", "round_dot", "square_dot", "square_dot", "square_dot")

    def draw(file: Any, sheet: Any) -> None:
        chart = file.add_chart({"type": "scatter", "subtype": "straight"})
        for number, (name, values) in enumerate(series):
            line = {"color": SERIES[number % len(SERIES)], "width": 2, "dash_type": dashes[number % len(dashes)]}
            chart.add_series(
                {"name": name, "categories": [sheet_name, *across], "values": [sheet_name, *values], "line": line}
            )
        _dress(chart, title, *axes)
        chart.set_x_axis({"name": axes[0], "name_font": TEXT, "num_font": TEXT, "min": 0, "max": across_to})
        chart.set_y_axis(
            {"name": axes[1], "name_font": TEXT, "num_font": TEXT, "num_format": "0%", "major_gridlines": _GRID}
        )
        chart.set_size({"width": WIDE, "height": 290})
        sheet.insert_chart(at[0], at[1], chart, {"object_position": 2, "description": title})

    return draw


_GRID = {"visible": True, "line": {"color": LINE, "width": 0.5}}


def _dress(chart: Any, title: str, across: str, up: str) -> None:
    chart.set_title({"name": title, "name_font": {**TEXT, "size": 10, "bold": True}, "overlay": False})
    chart.set_x_axis(
        {"name": across, "name_font": TEXT, "num_font": TEXT, "label_position": "low", "line": {"color": LINE}}
    )
    chart.set_y_axis(
        {"name": up, "name_font": TEXT, "num_font": TEXT, "num_format": "0.0", "major_gridlines": _GRID, "min": 0}
    )
    chart.set_legend({"position": "bottom", "font": TEXT})
    chart.set_chartarea({"border": {"color": LINE}})
    chart.show_hidden_data()
