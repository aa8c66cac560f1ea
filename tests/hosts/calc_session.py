"""Types into LibreOffice Calc as a person does, by its own programming interface. Run by a Python that has LibreOffice's `uno`.

Reads a task as JSON from standard input (port, cells to type, files to write); prints what cells and function wizard show.
"""

import json
import sys
import time


def connected(port, wait_s=120):
    """What LibreOffice offers on a port."""
    import uno
    from com.sun.star.connection import NoConnectException

    local = uno.getComponentContext()
    resolver = local.ServiceManager.createInstanceWithContext("com.sun.star.bridge.UnoUrlResolver", local)
    for _ in range(4 * wait_s):
        try:
            return resolver.resolve(f"uno:socket,host=localhost,port={port};urp;StarOffice.ComponentContext")
        except NoConnectException:
            time.sleep(0.25)
    raise SystemExit(f"LibreOffice does not answer on the port {port}")


def properties(**values):
    """Named values as LibreOffice takes them."""
    from com.sun.star.beans import PropertyValue

    return tuple(PropertyValue(Name=name, Value=value) for name, value in values.items())


def typed(sheet, cells):
    """Type each text into its cell, into a range as an array formula; then what each cell holds and shows."""
    targets = [sheet.getCellRangeByName(place) for place, _ in cells]
    for target, (place, text) in zip(targets, cells, strict=True):
        if ":" in place:
            target.setArrayFormula(text)
        else:
            target.getCellByPosition(0, 0).FormulaLocal = text
    found = {}
    for target in targets:
        where = target.RangeAddress
        for row in range(where.EndRow - where.StartRow + 1):
            for column in range(where.EndColumn - where.StartColumn + 1):
                cell = target.getCellByPosition(column, row)
                name = cell.AbsoluteName.rsplit(".", 1)[1].replace("$", "")
                found[name] = {"value": cell.Value, "error": cell.getError(), "shown": cell.String}
    return found


def wizard(context):
    """What the function wizard shows of each function of ours: its text, its category, its arguments with their texts."""
    known = context.ServiceManager.createInstanceWithContext("com.sun.star.sheet.FunctionDescriptions", context)
    found = {}
    for number in range(known.Count):
        parts = {item.Name: item.Value for item in known.getByIndex(number)}
        if parts["Name"].startswith("FAB_"):
            arguments = [[item.Name, item.Description] for item in parts["Arguments"] or ()]
            found[parts["Name"]] = {"text": parts["Description"], "category": parts["Category"], "arguments": arguments}
    return found


def main():
    """One new workbook: type, look, save under each name, close."""
    task = json.load(sys.stdin)
    context = connected(task["port"])
    desktop = context.ServiceManager.createInstanceWithContext("com.sun.star.frame.Desktop", context)
    book = desktop.loadComponentFromURL("private:factory/scalc", "_blank", 0, properties(Hidden=True))
    sheet = book.Sheets.getByIndex(0)
    answer = {"cells": typed(sheet, task["cells"]), "wizard": wizard(context)}
    sheet.getCellRangeByName("A1:Z1").Columns.OptimalWidth = True
    page = book.StyleFamilies.getByName("PageStyles").getByName(sheet.PageStyle)
    page.IsLandscape, page.Width, page.Height, page.ScaleToPagesX = True, page.Height, page.Width, 1
    for address, kind in task["files"]:
        book.storeToURL(address, properties(FilterName=kind, Overwrite=True))
    book.close(False)
    json.dump(answer, sys.stdout)
    desktop.terminate()


if __name__ == "__main__":
    main()
