"""The formats of a printed edition: each is a function of one frozen `Edition`, and gives the same bytes for ever."""
