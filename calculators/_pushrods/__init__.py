"""Pushrods and tubes: what a moved head changes, report, drawing."""
