"""Frozen records and small values that every room speaks. Nothing here computes more than itself."""
