"""A card's life, pure: which step, what is next, what stops it."""
