"""FunctionSpec and the one decorator: it marks and checks a calculation, it does not compute."""

from __future__ import annotations

import functools
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np

from xlfab.core.arguments import Argument, argument, label_of
from xlfab.core.arrays import as_numbers, bad_elements, complaint, inside, span
from xlfab.core.errors import InputError, RangeError
from xlfab.core.sources import source
from xlfab.core.units import Unit, split_name


@dataclass(frozen=True)
class FunctionSpec:
    """What every host needs to know of a calculation. `native` writes a range function with a spreadsheet's own functions."""

    name: str
    cell_name: str
    group: str
    arguments: tuple[Argument, ...]
    unit: Unit
    label: str
    summary: str
    sources: tuple[str, ...]
    domain: str
    native: Callable[..., str] | None = None

    @property
    def is_range(self) -> bool:
        """True if an argument is a whole range of cells (cash flows, say)."""
        return any(item.is_range for item in self.arguments)


class Function:
    """A registered calculation: call it with numbers or arrays; `.formula` is the bare one, `.spec` describes it.

    Called from Python it raises; with `invalid="nan"` only the elements that have no result become NaN.
    """

    def __init__(self, formula: Callable[..., Any], spec: FunctionSpec) -> None:
        functools.update_wrapper(self, formula)
        self.formula = formula
        self.spec = spec
        self._names = tuple(item.name for item in spec.arguments)

    def __repr__(self) -> str:
        return f"<{self.spec.name}({', '.join(self._names)})>"

    def __call__(self, *args: Any, invalid: str = "raise", **named: Any) -> Any:
        given = self._positional(args, named)
        spec = self.spec
        values = [as_numbers(value, item) for value, item in zip(given, spec.arguments, strict=True)]
        wrong = [pair for pair in zip(values, spec.arguments, strict=True) if not inside(*pair)]
        if wrong and invalid == "raise":
            raise RangeError(f"{spec.name}: " + "; ".join(complaint(*pair) for pair in wrong))
        with np.errstate(all="ignore"):
            result = self._computed(values)
        if spec.is_range:
            return self._range_result(result, wrong, invalid)
        if all(isinstance(value, float) for value in values):
            if np.isfinite(result) and not wrong:
                return float(result)
            if invalid == "raise":
                raise RangeError(self._no_result(values, ()))
            return float("nan")
        good = np.isfinite(result)
        if good.all() and not wrong:
            return result
        if invalid == "raise":
            raise RangeError(self._no_result(values, np.argwhere(~good)[0]))
        return _blanked(result, wrong)

    def on_rows(self, values: list[Any], spans: list[tuple[float, float]]) -> tuple[Any, tuple[float, float]]:
        """The result inside a table, NaN where there is none, with its span; the arguments are float64 and their spans known."""
        pairs = zip(values, self.spec.arguments, spans, strict=True)
        wrong = [(value, item) for value, item, ends in pairs if not item.accepts(*ends)]
        result = self._computed(values)
        low, high = span(result)
        if not wrong and -np.inf < low and high < np.inf:
            return result, (low, high)
        result = _blanked(result, wrong)
        return result, span(result)

    def _computed(self, values: list[Any]) -> Any:
        try:
            return self.formula(*values)
        except (ZeroDivisionError, OverflowError):
            # Python's own floats raise where arrays go on: the bad term may stand in a branch that is not taken
            return self._as_elements(values)
        except ValueError as error:
            if isinstance(error, InputError):
                raise
            raise InputError(f"{self.spec.name}: arguments do not fit together: {error}") from error

    def _as_elements(self, values: list[Any]) -> Any:
        try:
            with np.errstate(all="ignore"):
                return self.formula(*[np.float64(value) if isinstance(value, float) else value for value in values])
        except (ZeroDivisionError, OverflowError):
            return np.nan

    def _range_result(self, result: Any, wrong: list[Any], invalid: str) -> Any:
        if wrong:
            return np.full_like(np.asarray(result), np.nan) if np.ndim(result) else float("nan")
        if invalid == "raise" and not np.isfinite(result).all():
            raise RangeError(f"{self.spec.name}: {self.spec.domain or 'no result'}")
        return result if np.ndim(result) else float(result)

    def _positional(self, args: tuple[Any, ...], named: dict[str, Any]) -> tuple[Any, ...]:
        if named:
            rest = self._names[len(args) :]
            unknown = set(named) - set(rest)
            if unknown:
                raise InputError(f"{self.spec.name} takes {', '.join(self._names)}; not {', '.join(sorted(unknown))}")
            args = (*args, *(named[name] for name in rest if name in named))
        if len(args) != len(self._names):
            raise InputError(f"{self.spec.name} takes {len(self._names)} arguments: {', '.join(self._names)}")
        return args

    def _no_result(self, values: list[Any], index: Any) -> str:
        shape = np.broadcast_shapes(*(np.shape(value) for value in values))
        shown = []
        for value, name in zip(values, self._names, strict=True):
            element = np.broadcast_to(value, shape)[tuple(index)]
            shown.append(f"{name} = {float(element):.12g}")
        place = f" (element {', '.join(str(i) for i in index)})" if len(index) else ""
        reason = self.spec.domain or "the calculation has no finite result"
        return f"{self.spec.name}: {reason}; given {', '.join(shown)}{place}"


def _blanked(result: Any, wrong: list[tuple[Any, Argument]]) -> Any:
    """NaN in place of every element that is not finite or comes from an argument outside its range."""
    result = np.where(np.isfinite(result), result, np.nan)
    for value, item in wrong:
        result = np.where(bad_elements(value, item), np.nan, result)
    return result


def function(
    *sources: str, domain: str = "", native: Callable[..., str] | None = None
) -> Callable[[Callable[..., Any]], Function]:
    """Register a calculation with the keys of its sources.

    `domain` says in words what must hold between arguments (the formula returns NaN where it does not).
    Arguments must be in the vocabulary; the unit of the result is the end of the function's name.
    """

    def mark(formula: Callable[..., Any]) -> Function:
        name = formula.__name__
        if not sources:
            raise InputError(f"{name}: state at least one source key")
        for key in sources:
            source(key)
        summary = (formula.__doc__ or "").strip().split("\n", 1)[0]
        spec = FunctionSpec(
            name=name,
            cell_name="FAB_" + name.upper(),
            group=formula.__module__.split(".")[1],
            arguments=tuple(argument(item) for item in formula.__code__.co_varnames[: formula.__code__.co_argcount]),
            unit=split_name(name)[1],
            label=label_of(name),
            summary=summary,
            sources=tuple(sources),
            domain=domain,
            native=native,
        )
        return Function(formula, spec)

    return mark
