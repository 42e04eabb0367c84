"""Settings of one grower: what holds for every lot that the command line is asked about."""
