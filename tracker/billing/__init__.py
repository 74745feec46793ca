"""Bills, pure: tax groups, totals, numbers, deposits and credit."""
