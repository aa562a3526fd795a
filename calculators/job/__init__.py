"""The job sheet: what the browser keeps of a job, read back, checked, merged and printed."""
