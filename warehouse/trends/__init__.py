"""Statistics of rates and trends among entries: arrays and frames in, figures out; no book, no files."""
