"""The crank's marks, and what is set by them: top dead centre, points, spark and cam."""

TITLE = "Marks and timing"
ORDER = ("top_dead_centre", "marks", "points", "set_standing", "light", "cam")
