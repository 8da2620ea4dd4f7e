"""The kinds of decisions, apart from what they do: the command names them before it opens any book."""

CORRECT = "correct"  # made by loaders.decisions, for its cells are audited again
OF_THE_STORE = ("accept", "hold", "refuse", "panel", "withdraw", "merge", "distinct", "undo")
KINDS = (*OF_THE_STORE, CORRECT)
