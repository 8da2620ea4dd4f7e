"""What the book can say about trends: entries counted in sets, then handed to `warehouse.trends` as small frames.

Each `.sql` file states its grain. Only what qualifies in one record book and category is ever counted.
"""
