"""Chamber volume and deck height: readings made into figures, reports, drawings."""
