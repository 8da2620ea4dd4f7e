"""From a file as received to readings the warehouse can score, audit and keep."""
