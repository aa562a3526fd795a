"""Everything that can be wrong with what came from outside: one tree, one file."""

from __future__ import annotations

from dataclasses import dataclass


class BenchError(Exception):
    """Any error that is the input's fault; every other exception is a bug."""


@dataclass(frozen=True)
class FieldError:
    """What is wrong with one field, in the words that stand beside it."""

    field: str
    message: str


class InputErrors(BenchError):
    """One or more fields cannot be answered.

    Parameters
    ----------
    errors : tuple of FieldError
        At least one, in the order in which they are asked.
    """

    def __init__(self, *errors: FieldError) -> None:
        super().__init__("; ".join(error.message for error in errors))
        self.errors = errors


class Lacking(InputErrors):
    """Something is still to be entered that no single box asks for: one of several would do."""


class CardError(BenchError):
    """An engine card that cannot be used; the message names file, key, fault and remedy."""


class JobError(BenchError):
    """A job file that cannot be used; the message names file, place and fault."""
