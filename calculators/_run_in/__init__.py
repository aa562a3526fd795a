"""What the run-in plan is made of: its days and distances, its steps to tick, its tables, drawing and calendar."""
