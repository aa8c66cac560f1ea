"""Run xlfab as a module."""

from xlfab.cli import main

main()
