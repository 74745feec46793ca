"""The electrical sums, pure: every function says its units, its range and its source."""
