"""What sealing is made of: the joints and their kinds, the seals and their crush, the report and the time strip."""
