"""The only door to seeds/ and to the shop's own copies of them; every mistake in them is named."""
