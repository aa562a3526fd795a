"""What air and mixture are made of: the air itself, the throttles, the exhaust gas, and their drawings."""
