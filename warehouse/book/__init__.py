"""The store: one DuckDB file, its migrations, its ledger and its reference tables."""
