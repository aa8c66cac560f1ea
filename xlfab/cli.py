"""The command line: parse, call one function, print. Every refusal is one message and exit code 2."""

from __future__ import annotations

import codecs
import os
import sys
from importlib import import_module
from io import TextIOWrapper
from typing import Annotated, Any

import typer
from typer.core import TyperCommand, TyperGroup

from xlfab import __version__
from xlfab.command_table import COMMANDS, Entry
from xlfab.core.console import complain
from xlfab.core.errors import XlfabError
from xlfab.core.writing import inputs_kept

_ENTRIES = {entry.name: entry for entry in COMMANDS}


class _Commands(TyperGroup):
    """The commands of the table: for help by their lines, loaded only when called."""

    def list_commands(self, ctx: Any) -> list[str]:
        """The names in the order of the table."""
        return list(_ENTRIES)

    def get_command(self, ctx: Any, cmd_name: str) -> Any:
        """What help shows of a command: its line in the table."""
        entry = _ENTRIES.get(cmd_name)
        return entry and TyperCommand(entry.name, help=entry.help, rich_help_panel=entry.panel)

    def resolve_command(self, ctx: Any, args: list[str]) -> Any:
        """The command that is called, loaded now."""
        name, _, rest = super().resolve_command(ctx, args)
        return name, name and load_command(_ENTRIES[name]), rest


def load_command(entry: Entry) -> Any:
    """A command of the table with its arguments and options."""
    holder = typer.Typer(callback=lambda: None)
    import_module(f"xlfab.{entry.module}").add_to(holder)
    group: Any = typer.main.get_command(holder)
    command = group.commands[entry.name]
    command.epilog = f"Example: {entry.example}"
    return command


app = typer.Typer(
    name="xlfab",
    cls=_Commands,
    help="Cycle time, energy and cost per part for shearing and press-brake bending; hydraulic against electric, down to payback.",
    no_args_is_help=True,
    add_completion=True,
    pretty_exceptions_enable=False,
)


@app.callback(invoke_without_command=True)
def about(
    context: typer.Context,
    version: Annotated[bool, typer.Option("--version", help="Print the version and stop.")] = False,
) -> None:
    """The options that stand before a command."""
    context.with_resource(inputs_kept())
    if version:
        print(f"xlfab {__version__}")
        raise typer.Exit


PLAIN_LETTERS = {
    "±": "+/-",
    "×": "x",
    "–": "-",
    "—": "-",
    "−": "-",
    "·": ".",
    "…": "...",
    "≥": ">=",
    "≤": "<=",
    "°": " deg",
    "²": "2",
}


def _in_plain_letters(error: UnicodeError) -> tuple[str, int]:
    """What a terminal without these letters gets in their place, so that printing never ends in an error."""
    if not isinstance(error, UnicodeEncodeError):
        raise error
    return "".join(PLAIN_LETTERS.get(one, "?") for one in error.object[error.start : error.end]), error.end


def main() -> None:
    """Run the command line; refusals end with exit code 2 and one message."""
    codecs.register_error("plain_letters", _in_plain_letters)
    if sys.stdout is None:
        complain("the output is closed")
        sys.exit(2)
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, TextIOWrapper):
            stream.reconfigure(errors="plain_letters")
    try:
        code = _run()
        sys.stdout.flush()
    except OSError as error:  # the output itself cannot be written
        code = _refuse(error)
    if code == 2:
        _give_up_output()
    sys.exit(code)


def _run() -> int:
    try:
        app(standalone_mode=True)
    except SystemExit as end:
        return end.code if isinstance(end.code, int) else 0
    except (XlfabError, OSError, MemoryError, RecursionError) as error:
        return _refuse(error)
    return 0


def _refuse(error: BaseException) -> int:
    if isinstance(error, OSError):
        complain(": ".join(str(part) for part in (error.filename, error.strerror or error) if part))
    elif isinstance(error, (MemoryError, RecursionError)):
        complain("the files are too large for the memory of this computer; try with fewer parts")
    else:
        complain(error)
    return 2


def _give_up_output() -> None:
    """Let Python end without trying again to write to an output that is closed or full."""
    try:
        sys.stdout.flush()
    except OSError:
        sys.stdout = open(os.devnull, "w", encoding="utf-8")  # noqa: SIM115 - held until the end


if __name__ == "__main__":
    main()
