"""Drawings from numbers."""

from calculators._drawing import Drawing, around

__all__ = ["Drawing", "around"]
