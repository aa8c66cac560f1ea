"""A quote.toml that is not what it should be is refused with its place, whatever stands in it."""

import shutil
from pathlib import Path

import pytest

from xlfab.core.errors import ScenarioError
from xlfab.inputs.bundled import bundled
from xlfab.inputs.scenario import load
from xlfab.quote.quote_file import load_quote


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("quote = 5", r"\[quote\]: must be one table"),
        ("texts = [1]", r"\[texts\]: must be one table"),
        ("texts = 'a'", r"\[texts\]: must be one table"),
        ("work_centre = [1]", r"\[\[work_centre\]\]: must be a list of tables"),
        ("work_centre = 1", r"\[\[work_centre\]\]: must be a list of tables"),
        ("quote = " + "[" * 5000, "nested too deep"),
        ("a = " + "[" * 40 + "]" * 40, "nested too deep"),
        ("a" + ".a" * 30_000 + " = 1", "longer than|parts"),
        ("a" + ".a" * 30 + " = 1", "more than 12 parts"),
        ("[" + "a." * 30 + "a]", "more than 12 parts"),
        ("a = " + "1" * 6000, "not valid TOML"),
        ('[texts]\ncustomer = "a\\u000bb"', "customer: the text holds a control character"),
        ("quote.margin_share = nan", "margin_share = nan"),
        ("quote.margin_share = 1" + "0" * 400, "margin_share"),
    ],
)
def test_refused_with_place(tmp_path: Path, text: str, said: str) -> None:
    folder = tmp_path / "shop"
    shutil.copytree(bundled("demo_shop"), folder)
    scenario = load(folder)
    (folder / "quote.toml").write_text(text, encoding="utf-8")
    with pytest.raises(ScenarioError, match=said):
        load_quote(folder, scenario)
