"""Every command by person: its name, the module that holds it, one line of help and one example. A new command is one line here.

Nothing is loaded until a command is called, so that `xlfab --help` is there at once.
"""

from __future__ import annotations

from dataclasses import dataclass

ESTIMATOR = "Estimator: quotes and times"
OWNER = "Owner: is the machine worth it"
SELLER = "Salesperson: the customer's own numbers"
ALL = "Everybody"


@dataclass(frozen=True)
class Entry:
    """One command: `module` has a function `add_to(app)` that adds it; `group` holds further commands."""

    name: str
    module: str
    panel: str
    help: str
    example: str
    group: bool = False


COMMANDS = (
    Entry("demo", "comparison.comparison_commands", ALL, "Build the workbooks of the demo shops.", "xlfab demo"),
    Entry("doctor", "doctor_command", ALL, "Check the installation, and say what to do.", "xlfab doctor"),
    Entry("functions", "functions_command", ALL, "List the functions, or show one.", "xlfab functions FAB_BEND_FORCE_KN"),
    Entry("excel", "hosts.excel_command", ALL, "The add-in for Excel on Windows.", "xlfab excel install", True),
    Entry("calc", "hosts.calc_command", ALL, "The add-in for LibreOffice Calc.", "xlfab calc install", True),
    Entry("quote", "quote.quote_commands", ESTIMATOR, "Build the quote of a shop's parts.", "xlfab quote demo_shop -o quote.xlsx"),
    Entry("pdf", "quote.quote_commands", ESTIMATOR, "Print a quote's page for the customer.", "xlfab pdf quote.xlsx -o quote.pdf"),
    Entry("import", "customer_list.import_command", ESTIMATOR, "Read a customer's list of parts.", "xlfab import list.xlsx --to parts"),
    Entry("cuts", "work.shop_floor_commands", ESTIMATOR, "Write the cut list of a part.", "xlfab cuts demo_shop"),
    Entry("stopwatch", "work.shop_floor_commands", ESTIMATOR, "Fit handling times to stopwatch readings.", "xlfab stopwatch readings.csv"),
    Entry("actuals", "actuals.actuals_command", ESTIMATOR, "Compare actual with estimated times.", "xlfab actuals lots.csv"),
    Entry("show", "comparison.comparison_commands", OWNER, "Print the comparison of a shop.", "xlfab show demo_shop"),
    Entry("build", "comparison.comparison_commands", OWNER, "Build the comparison workbook of a shop.", "xlfab build demo_shop -o shop.xlsx"),
    Entry("risk", "comparison.purchase_commands", OWNER, "Draw all assumptions at random: how sure is the answer?", "xlfab risk demo_shop -o risk.xlsx"),
    Entry("meter", "meter.meter_command", OWNER, "Read a power log: kW in each state of a machine.", "xlfab meter log.csv"),
    Entry("audit", "used_workbook.audit_command", OWNER, "Say what was changed in a workbook.", "xlfab audit shop.xlsx"),
    Entry("read", "used_workbook.read_command", OWNER, "Read a workbook's inputs back into a folder.", "xlfab read shop.xlsx --to shop2"),
    Entry("new", "quote.quote_commands", SELLER, "Start anew: a comparison from ten questions, or a blank quote.", "xlfab new comparison customer", True),
    Entry("page", "comparison.purchase_commands", SELLER, "Print the one page for the table.", "xlfab page shop.xlsx -o page.pdf"),
    Entry("share", "used_workbook.share_command", SELLER, "Make the copy for the customer.", "xlfab share shop.xlsx -o customer.xlsx"),
)  # fmt: skip
