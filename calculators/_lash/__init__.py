"""Lash turn plan, lash setting, lash growth: engine, stops, record, reports, drawings."""
