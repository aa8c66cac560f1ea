"""The corpora."""

from __future__ import annotations

from .case import Case
from .course_cases import courses
from .fault_cases import faults
from .second_cases import second_corpus
from .style_cases import coarse, writing_styles


def first_corpus() -> list[Case]:
    """All cases of the first corpus."""
    return [*writing_styles(), *coarse(), *courses(), *faults()]


CORPORA = {"first": first_corpus, "second": second_corpus}
