"""The screens (Textual)."""
