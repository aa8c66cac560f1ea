"""Count what comes of the corpus: right, asked, refused, silently wrong. `python tests/customer_list/corpus_count.py` prints it.

A figure is right when it equals the truth, asked when the sender's answers were needed for it, left open when it is empty or stands with
a note beside it, and silently wrong when it differs from the truth with no word. A list counts by its worst figure.
"""

from __future__ import annotations

import sys
import tempfile
from collections import Counter
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from list_corpus.case import FIELDS, Case

from xlfab.core.errors import ScenarioError
from xlfab.customer_list import gauges, propose, questions
from xlfab.customer_list.apply_mapping import Intake, apply
from xlfab.customer_list.cell_grid import read_sheets
from xlfab.inputs.defaults import default_names

NUMBER = 0.011  # mm; flat widths are worked out by hand to two places


@dataclass
class Outcome:
    """What came of one list."""

    name: str
    asked: list[str] = field(default_factory=list)
    refused: str = ""
    open_figures: list[str] = field(default_factory=list)
    wrong: list[str] = field(default_factory=list)
    right: int = 0

    @property
    def kind(self) -> str:
        """The word for the whole list."""
        if self.wrong:
            return "silently wrong"
        if self.refused:
            return "refused"
        if self.open_figures:
            return "left open"
        return "asked" if self.asked else "right"


def outcome(case: Case, folder: Path) -> Outcome:
    """Read one list as its sender would, and hold it against the truth."""
    result = Outcome(case.name)
    path = folder / f"list{case.suffix}"
    case.make(path)
    try:
        compare(case, intake(case, path, result), result)
    except ScenarioError as error:
        result.refused = str(error)
    return result


def intake(case: Case, path: Path, result: Outcome) -> Intake:
    """Propose, answer the questions, apply."""
    known = tuple(default_names("material"))
    sheets = read_sheets(path)
    used = propose.propose(sheets)
    if not used.sheets:
        raise ScenarioError("no sheet has a heading")
    tables = tuple(gauges.table())
    seen: set[tuple[str, ...]] = set()
    while todo := [item for item in questions.questions(used, sheets, known, tables) if item.place not in seen]:
        question = todo[0]
        seen.add(question.place)
        answer = answer_of(case, question.place)
        result.asked.append(":".join(question.place))
        if answer is not None:
            questions.answer(used, question, answer)
    still = [item for item in questions.questions(used, sheets, known, tables) if item.needed]
    if still:
        raise ScenarioError(f"open: {'; '.join(item.text for item in still)}")
    return apply(sheets, used)


def answer_of(case: Case, place: tuple[str, ...]) -> str | None:
    """What the sender knows, by kind and subject first."""
    for key in (f"{place[0]}:{place[-1]}", place[0]):
        if key in case.knows:
            return case.knows[key]
    return {"unit": "mm", "angles": "bend angle"}.get(place[0])


def compare(case: Case, made: Intake, result: Outcome) -> None:
    """Each figure of each part against the truth."""
    told = Counter(row_of(note.cell) for note in made.notes)
    about = {(row_of(note.cell), note.field) for note in made.notes}
    everywhere = {note.field for note in made.notes if not row_of(note.cell)}
    renamed = {note.shown for note in made.notes if note.field == "part"}
    truth = case.parts()
    rows = list(zip(made.parts, made.steps, [str(row) for _, row in made.places], strict=True))
    for expected in truth:
        place = next((i for i, (part, _, _) in enumerate(rows) if same_name(part["part"], expected[0], renamed)), None)
        if place is None:
            (result.open_figures if told else result.wrong).append(f"part {expected[0]} is not there")
            continue
        part, steps, row = rows.pop(place)
        figures = [part[name] for name in FIELDS] + [sum(step["kind"] == "bend" for step in steps)]
        for name, value, true in zip((*FIELDS, "bends"), figures, expected, strict=True):
            noted = bool({(row, topic) for topic in topics(name)} & about) or bool(topics(name) & everywhere)
            judge(result, f"{expected[0]} {name}: {value!r}, true {true}", value, true, noted or name == "part")
    for part, _, row in rows:
        (result.open_figures if told[row] and row else result.wrong).append(f"part {part['part']} is not in the list")


def topics(name: str) -> set[str]:
    """The fields of the list under which a note can speak of a figure."""
    return {
        "part": {"part"}, "material": {"material"}, "thickness_mm": {"thickness", "size", "row"},
        "blank_length_mm": {"length", "size", "row"}, "blank_width_mm": {"width", "size", "flanges", "row"},
        "lot_size_count": {"lot", "row"}, "yearly_quantity_count": {"yearly", "row"}, "bends": {"bends", "flanges", "row"},
    }[name]  # fmt: skip


def judge(result: Outcome, label: str, value: Any, true: str, noted: bool) -> None:
    """One figure."""
    if true == "-":
        return
    if true == "~":
        (result.open_figures if value is None or noted else result.wrong).append(label)
    elif isinstance(value, str):
        good = value == true or label.split(" ")[1] == "part:"
        result.right += good
        if not good:
            (result.open_figures if noted else result.wrong).append(label)
    elif value is not None and abs(value - float(true)) <= NUMBER * (1 if float(true) > 1 else 1e-3):
        result.right += 1
    else:
        (result.open_figures if noted else result.wrong).append(label)


def same_name(made: Any, true: str, renamed: set[str]) -> bool:
    """True if a part is the one of the truth, or was given another name with a note that shows the old one."""
    clean = "".join(letter if letter.isalnum() or letter in " ._-" else "_" for letter in true).lstrip(" ._-")
    return true == "~" or made == true or (true in renamed and str(made).startswith(clean))


def row_of(cell: str) -> str:
    """The row number of a cell's name."""
    return "".join(letter for letter in cell if letter.isdigit())


def corpora() -> dict[str, list[Case]]:
    """Every corpus by name."""
    from list_corpus import cells_in_text, columns_in_text, fresh_lists, later_lists, workbook_lists

    first = columns_in_text.CASES + cells_in_text.CASES + workbook_lists.CASES
    return {"first corpus": first, "second corpus": fresh_lists.CASES, "third corpus": later_lists.CASES}


def main(show: bool) -> int:
    """Print the table, and with `show` every list that is not right."""
    wrong = 0
    for name, cases in corpora().items():
        with tempfile.TemporaryDirectory() as folder:
            found = [outcome(case, Path(folder)) for case in cases]
        kinds = Counter(item.kind for item in found)
        wrong += kinds["silently wrong"]
        figures = f"figures: right {sum(item.right for item in found)}, left open {sum(len(item.open_figures) for item in found)}, silently wrong {sum(len(item.wrong) for item in found)}"
        words = ", ".join(
            f"{kind} {kinds[kind]}" for kind in ("right", "asked", "left open", "refused", "silently wrong")
        )
        print(f"{name}: {len(cases)} lists: {words}; {figures}; questions {sum(len(item.asked) for item in found)}")
        for item in found if show else []:
            if item.kind != "right":
                print(
                    f"  {item.kind:14} {item.name}\n      asked {item.asked} refused {item.refused!r}\n      open {item.open_figures}\n      WRONG {item.wrong}"
                )
    return wrong


if __name__ == "__main__":
    sys.exit(bool(main("--show" in sys.argv)))
