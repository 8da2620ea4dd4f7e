"""Categories of scored heads: each is one TOML file beside this one, read and checked by `definition`."""

from warehouse.categories.definition import Category, Line, all_categories, category_of, read_category

__all__ = ["Category", "Line", "all_categories", "category_of", "read_category"]
