"""Formulas and searches that calculators stand on; nothing here knows a form or a report."""
