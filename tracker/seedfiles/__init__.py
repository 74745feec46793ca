"""The only door to seeds/ and to the shop's own copies of them; hands records on, with every mistake named."""
