"""What the calculator of marks and timing is made of: the rim, the spark, the cam, the report, the drawings."""
