"""The same deeds without a screen, each with --json; the screens are imported only to open them."""
