"""Whatever is done to the files: a scenario loads or is refused, and nothing else ever happens."""

from __future__ import annotations

import shutil
import tempfile
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

from xlfab.core.errors import ScenarioError
from xlfab.inputs.scenario import load

GOOD = Path(__file__).parent / "good"
FILES = {path.name: path.read_bytes() for path in GOOD.iterdir()}
TOKENS = [
    *(bytes([code]) for code in b"\"',;\n\r\t\0=[]{}-#. \xff"),
    *(text.encode() for text in ("nan", "-inf", "1e999", "true", "2024-01-01", "1_0", "0x1f", "é", "３", '"""', "9" * 400)),
    b"_in", b'"9**9**9 mm"', b"\xef\xbb\xbf", b"[1,2]", b"{value=1}",
]  # fmt: skip
EDIT = st.tuples(st.floats(0, 1), st.integers(0, 40), st.sampled_from([b"", *TOKENS]))


@settings(max_examples=200, deadline=None)
@given(file=st.sampled_from(sorted(FILES)), edits=st.lists(EDIT, min_size=1, max_size=4))
def test_loads_or_is_refused(file, edits):
    raw = FILES[file]
    for where, length, token in edits:
        at = int(where * len(raw))
        raw = raw[:at] + token + raw[at + length :]
    with tempfile.TemporaryDirectory() as folder:
        shutil.copytree(GOOD, folder, dirs_exist_ok=True)
        (Path(folder) / file).write_bytes(raw)
        try:
            load(folder)
        except ScenarioError as error:
            assert ".csv" in str(error) or "scenario.toml" in str(error)
