"""What every printer shares: which terms get a local name, and an expression written with one table of operations a target.

A new target is a new file: a subclass of `Target` with its tables, and what it needs around the body.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping
from typing import ClassVar

from xlfab.core.errors import FormulaError
from xlfab.trace.expression import Expression

_LEAVES = {"ref", "number", "text"}


class Target:
    """A language that writes every operation as a call, or between its terms and in brackets."""

    name: ClassVar[str]
    calls: ClassVar[Mapping[str, str]]  # operation -> function
    infix: ClassVar[Mapping[str, str]]  # operation -> sign between two terms

    def number(self, value: float) -> str:
        """A constant; NaN is what stands for no result."""
        raise NotImplementedError

    def text(self, value: str) -> str:
        """A text in quotes."""
        raise FormulaError(f"{self.name} has no texts here: {value}")

    def choice(self, condition: str, yes: str, no: str) -> str:
        """One value or the other."""
        raise NotImplementedError

    def write(self, node: Expression, names: Mapping[Expression, str]) -> str:
        """One node; nodes that have a local name are written as that name."""
        if node in names:
            return names[node]
        if node.op == "ref":
            return str(node.terms[0])
        if node.op == "number":
            return self.number(node.terms[0])
        if node.op == "text":
            return self.text(node.terms[0])
        return self.operation(node, names)

    def operation(self, node: Expression, names: Mapping[Expression, str]) -> str:
        """An operation on its terms."""
        terms = [self.write(term, names) for term in node.terms]
        if node.op == "if":
            return self.choice(*terms)
        if node.op == "neg":
            return f"(-{terms[0]})"
        if node.op in self.calls:
            return f"{self.calls[node.op]}({', '.join(terms)})"
        if node.op in self.infix:
            return f"({terms[0]} {self.infix[node.op]} {terms[1]})"
        raise FormulaError(f"{node.op} cannot be written in {self.name}")

    def bindings(self, root: Expression, name_of: Callable[[int], str]) -> tuple[list[tuple[str, str]], str]:
        """The local names with what they stand for, in order, and the expression written with them."""
        names: dict[Expression, str] = {}
        bound: list[tuple[str, str]] = []
        for node in recurring(root):
            text = self.write(node, names)
            names[node] = name_of(len(bound) + 1)
            bound.append((names[node], text))
        return bound, self.write(root, names)


def recurring(root: Expression) -> list[Expression]:
    """The nodes that are used more than once and are worth a name, inner ones first."""
    uses: Counter[Expression] = Counter()
    order = inner_first(root)
    for node in order:
        uses.update(term for term in node.terms if isinstance(term, Expression))
    return [node for node in order if uses[node] > 1 and node.op not in _LEAVES]


def inner_first(root: Expression) -> list[Expression]:
    """Every node once, each after its terms."""
    order: list[Expression] = []
    stack: list[tuple[Expression, bool]] = [(root, False)]
    seen: set[Expression] = set()
    while stack:
        node, done = stack.pop()
        if done:
            order.append(node)
        elif node not in seen:
            seen.add(node)
            stack.append((node, True))
            stack += [(term, False) for term in node.terms if isinstance(term, Expression)]
    return order


def one_by_one(root: Expression) -> Expression:
    """The expression with every MIN and MAX of two terms written as a choice: over ranges, those would make one number of all cells."""
    new: dict[Expression, Expression] = {}
    for node in inner_first(root):
        terms = [new.get(term, term) if isinstance(term, Expression) else term for term in node.terms]
        if node.op in ("min", "max"):
            new[node] = Expression("if", Expression("<" if node.op == "min" else ">", *terms), *terms)
        else:
            new[node] = Expression(node.op, *terms)
    return new[root]
