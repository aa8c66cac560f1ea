"""Native charts, drawn so that they can be read in grey print: dark against light, values beside the bars."""

from __future__ import annotations

from typing import Any

from xlfab.workbook.style import FONT, INK, LINE, SERIES

_TEXT = {"name": FONT, "size": 8, "color": INK}


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
) -> Any:
    """A bar chart over cells of one sheet. Ranges are (first row, first column, last row, last column)."""

    def draw(file: Any, sheet: Any) -> None:
        labelled = {"value": True, "num_format": number_format, "font": _TEXT}
        chart = file.add_chart({"type": "bar" if horizontal else "column"})
        for number, (name, values) in enumerate(series):
            chart.add_series(
                {
                    "name": name,
                    "categories": [sheet_name, *labels],
                    "values": [sheet_name, *values],
                    "fill": {"color": SERIES[number % len(SERIES)]},
                    "border": {"color": INK, "width": 0.5},
                    "gap": 60,
                    **({"data_labels": labelled} if len(series) == 1 else {}),
                }
            )
        chart.set_title({"name": title, "name_font": {**_TEXT, "size": 10, "bold": True}, "overlay": False})
        chart.set_x_axis(
            {
                "num_font": _TEXT,
                "line": {"color": LINE},
                "label_position": "low",
                "name": axis if horizontal else "",
                "name_font": _TEXT,
                "num_format": number_format if horizontal else "General",
            }
        )
        chart.set_y_axis(
            {
                "num_font": _TEXT,
                "major_gridlines": {"visible": True, "line": {"color": LINE, "width": 0.5}},
                "reverse": horizontal,
                "label_position": "low",
                "name": "" if horizontal else axis,
                "name_font": _TEXT,
                "num_format": "General" if horizontal else number_format,
                **({} if horizontal else {"min": 0}),
            }
        )
        chart.set_legend({"none": True} if len(series) == 1 else {"position": "bottom", "font": _TEXT})
        chart.set_size({"width": size[0], "height": size[1]})
        chart.set_chartarea({"border": {"color": LINE}})
        sheet.insert_chart(at[0], at[1], chart, {"object_position": 2, "description": title})

    return draw
