"""The Calc add-in as a file: an .oxt is a zip of a component, its interface as text, and the texts of the function wizard."""

from __future__ import annotations

import zipfile
from collections.abc import Iterable, Sequence
from importlib.resources import files
from pathlib import Path
from xml.sax.saxutils import escape

from xlfab import __version__
from xlfab.catalogue import CATALOGUE
from xlfab.core.registry import Function
from xlfab.core.writing import whole_file
from xlfab.hosts import naming
from xlfab.hosts.calc_python import module

IDENTIFIER = "org.xlfab.functions"
FILE_NAME = "xlfab.oxt"
_MANIFEST = """<?xml version="1.0" encoding="UTF-8"?>
<manifest:manifest xmlns:manifest="http://openoffice.org/2001/manifest">
<manifest:file-entry manifest:media-type="application/vnd.sun.star.uno-typelibrary;type=RDB" manifest:full-path="functions.idl"/>
<manifest:file-entry manifest:media-type="application/vnd.sun.star.uno-component;type=Python" manifest:full-path="component.py"/>
<manifest:file-entry manifest:media-type="application/vnd.sun.star.configuration-data" manifest:full-path="CalcAddIns.xcu"/>
</manifest:manifest>
"""
_DESCRIPTION = """<?xml version="1.0" encoding="UTF-8"?>
<description xmlns="http://openoffice.org/extensions/description/2006" xmlns:xlink="http://www.w3.org/1999/xlink">
<identifier value="{identifier}"/>
<version value="{version}"/>
<display-name><name lang="en">xlfab: time, energy and cost of shearing and bending</name></display-name>
</description>
"""
_FOLDER = (
    '<node oor:name="AddInInfo"><node oor:name="org.xlfab.Functions" oor:op="replace"><node oor:name="AddInFunctions">'
)


def interface(functions: Iterable[Function]) -> str:
    """The interface of the component, as text: every argument may be a single value or a range; every result is a range."""
    methods = ["string fabAbout();"]
    for function in functions:
        arguments = ", ".join(f"[in] any {_node(i)}" for i in range(len(function.spec.arguments)))
        methods.append(f"sequence< sequence< any > > {naming.method_name(function.spec)}({arguments});")
    body = "\n".join(methods)
    return f"module org {{ module xlfab {{ interface XFunctions {{\n{body}\n}}; }}; }};\n"


def _node(place: int) -> str:
    # the wizard takes the arguments in the order of these names
    return f"a{place + 1:02d}"


def wizard(functions: Iterable[Function]) -> str:
    """The texts of the function wizard, and the name under which an .xlsx file knows each function."""
    nodes = [_function_node("fabAbout", naming.ABOUT, naming.ABOUT_TEXT, ())]
    for function in functions:
        spec = function.spec
        nodes.append(
            _function_node(
                naming.method_name(spec), spec.cell_name, naming.description(spec), naming.argument_texts(spec)
            )
        )
    return (
        '<?xml version="1.0" encoding="UTF-8"?>\n'
        '<oor:component-data xmlns:oor="http://openoffice.org/2001/registry"'
        ' xmlns:xs="http://www.w3.org/2001/XMLSchema" oor:name="CalcAddIns" oor:package="org.openoffice.Office">\n'
        + _FOLDER
        + "\n"
        + "\n".join(nodes)
        + "\n</node></node></node></oor:component-data>\n"
    )


def _function_node(method: str, cell_name: str, text: str, arguments: Sequence[tuple[str, str]]) -> str:
    parts = [
        f'<node oor:name="{method}" oor:op="replace">',
        _property("DisplayName", cell_name, True),
        _property("Description", text, True),
        _property("Category", "Add-In", False),
        _property("CompatibilityName", cell_name, True),
        '<node oor:name="Parameters">',
    ]
    for place, (name, help_text) in enumerate(arguments):
        parts.append(f'<node oor:name="{_node(place)}" oor:op="replace">')
        parts += [_property("DisplayName", name, True), _property("Description", help_text, True), "</node>"]
    return "".join([*parts, "</node></node>"])


def _property(name: str, value: str, in_language: bool) -> str:
    language = ' xml:lang="en-US"' if in_language else ""
    return f'<prop oor:name="{name}"><value{language}>{escape(value)}</value></prop>'


def contents(functions: Sequence[Function] = CATALOGUE) -> dict[str, str]:
    """Every file of the package by its place in the zip."""
    naming.check(functions)
    source = files("xlfab.hosts")
    return {
        "META-INF/manifest.xml": _MANIFEST,
        "description.xml": _DESCRIPTION.format(identifier=IDENTIFIER, version=__version__),
        "functions.idl": interface(functions),
        "CalcAddIns.xcu": wizard(functions),
        "component.py": source.joinpath("calc_component.txt").read_text(encoding="utf-8"),
        "pythonpath/fab_runtime.py": source.joinpath("calc_runtime.py").read_text(encoding="utf-8"),
        "pythonpath/fab_functions.py": module(functions),
    }


def build(path: Path, functions: Sequence[Function] = CATALOGUE) -> Path:
    """Write the .oxt, whole or not at all; the same functions give the same bytes."""
    with whole_file(path) as partial, zipfile.ZipFile(partial, "w", zipfile.ZIP_DEFLATED) as package:
        for name, text in contents(functions).items():
            package.writestr(zipfile.ZipInfo(name), text, zipfile.ZIP_DEFLATED)
    return path
