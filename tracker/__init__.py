"""Loomcard: job cards, wiring loom, diagnosis, estimates and invoices for motorcycle electrics."""

__version__ = "0.1.0"
