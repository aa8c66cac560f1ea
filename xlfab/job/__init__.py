"""From inputs to results: the catalogue's calculations in written order, laid out as tables. No formula stands here."""

from __future__ import annotations

from xlfab.job.estimate import Job, MachineTables, OptionTables, estimate

__all__ = ["Job", "MachineTables", "OptionTables", "estimate"]
