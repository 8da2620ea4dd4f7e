"""Which cell of a sheet is wrong: the slips that would make every figure of a sheet agree, likeliest first."""
