"""The audit: every rule a sheet, an entry and a file are held to, and the words for what is found."""
