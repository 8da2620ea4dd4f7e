"""Every face of the book: the command, the pages and their charts. No rule lives here."""
