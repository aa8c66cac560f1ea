"""The few errors that xlfab raises. Each message says where, what was given, and what is allowed."""

from __future__ import annotations


class XlfabError(ValueError):
    """Anything that xlfab refuses; the command line turns it into one message and exit code 2."""


class InputError(XlfabError):
    """An argument that is no number (text, blank, date, error value), or arguments that do not fit together in shape."""


class RangeError(XlfabError):
    """A number outside its allowed range, or a combination of numbers for which there is no result."""


class ScenarioError(XlfabError):
    """A scenario file, CSV file or workbook that cannot be used: names file, place, value and what is allowed."""


class FormulaError(XlfabError):
    """A function that cannot be written as a formula (too long, or an operation that spreadsheets lack)."""


class HostError(XlfabError):
    """A spreadsheet program that is missing, refused an add-in, or is not supported on this system."""
