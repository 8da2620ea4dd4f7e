"""The ground floor: the domain (lengths, categories, scoring, audit) and the store (the book)."""
