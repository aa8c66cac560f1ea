"""Changes workbooks in LibreOffice Calc as a person does and saves them. Run by a Python that has LibreOffice's `uno`.

Reads a task as JSON from standard input: a port, and jobs of a file, steps and a target; prints the names of jobs that failed.
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


def step(book, what, sheet, *rest):
    """One thing that a person does."""
    if what == "new sheet":
        book.Sheets.insertNewByName(sheet, book.Sheets.Count)
        return
    page = book.Sheets.getByName(sheet)
    if what == "value":
        page.getCellRangeByName(rest[0]).Value = rest[1]
    elif what == "text":
        page.getCellRangeByName(rest[0]).String = rest[1]
    elif what == "formula":
        page.getCellRangeByName(rest[0]).Formula = rest[1]
    elif what == "clear":
        page.getCellRangeByName(rest[0]).clearContents(1 | 2 | 4 | 16)  # numbers, dates, texts, formulas
    elif what == "sort":
        area, column, rising = rest
        from com.sun.star.table import TableSortField

        order = TableSortField(Field=column, IsAscending=rising)
        wanted = properties(SortFields=__import__("uno").Any("[]com.sun.star.table.TableSortField", (order,)))
        page.getCellRangeByName(area).sort(wanted)
    elif what == "insert rows":
        _open(page, lambda: page.Rows.insertByIndex(rest[0] - 1, rest[1]))
    elif what == "delete rows":
        _open(page, lambda: page.Rows.removeByIndex(rest[0] - 1, rest[1]))
    elif what == "insert columns":
        _open(page, lambda: page.Columns.insertByIndex(rest[0], rest[1]))
    elif what == "width":
        page.Columns.getByIndex(rest[0]).Width = rest[1]
    elif what == "height":
        page.Rows.getByIndex(rest[0] - 1).Height = rest[1]
    else:
        _look(book, page, what, *rest)


def _open(page, change):
    """Unprotect, change, protect again."""
    held = page.isProtected()
    page.unprotect("")
    change()
    if held:
        page.protect("")


def _look(book, page, what, *rest):
    """What changes looks, notes and the like."""
    if what == "note":
        address = page.getCellRangeByName(rest[0]).CellAddress
        page.Annotations.insertNew(address, rest[1])
    elif what == "active":
        book.CurrentController.setActiveSheet(page)
    elif what == "bold":
        _open(page, lambda: setattr(page.getCellRangeByName(rest[0]), "CharWeight", 150.0))
    elif what == "fill":
        _open(page, lambda: setattr(page.getCellRangeByName(rest[0]), "CellBackColor", rest[1]))
    elif what == "format":
        _open(page, lambda: _format(book, page, *rest))
    elif what == "move sheet":
        book.Sheets.moveByName(page.Name, rest[0])
    elif what == "print area":
        page.setPrintAreas((page.getCellRangeByName(rest[0]).RangeAddress,))
    elif what == "copy":
        address = page.getCellRangeByName(rest[0]).RangeAddress
        target = page.getCellRangeByName(rest[1]).CellAddress
        page.copyRange(target, address)
    elif what == "freeze":
        book.CurrentController.setActiveSheet(page)
        book.CurrentController.freezeAtPosition(*rest)
    else:
        raise ValueError(what)


def _format(book, page, cells, code):
    from com.sun.star.lang import Locale

    number = book.NumberFormats.queryKey(code, Locale(), False)
    if number == -1:
        number = book.NumberFormats.addNew(code, Locale())
    page.getCellRangeByName(cells).NumberFormat = number


def main():
    """Every job in one LibreOffice, one file after the other."""
    task = json.load(sys.stdin)
    context = connected(task["port"])
    desktop = context.ServiceManager.createInstanceWithContext("com.sun.star.frame.Desktop", context)
    failed = {}
    for job in task["jobs"]:
        book = desktop.loadComponentFromURL(job["file"], "_blank", 0, properties(Hidden=True))
        try:
            for one in job["steps"]:
                step(book, *one)
            book.storeToURL(job["target"], properties(FilterName="Calc MS Excel 2007 XML", Overwrite=True))
        except Exception as error:
            failed[job["name"]] = repr(error)
        book.close(False)
    json.dump(failed, sys.stdout)
    desktop.terminate()


if __name__ == "__main__":
    main()
