"""The desk that the screens are tried on."""

from tests.desk.conftest import bare, bench

__all__ = ["bare", "bench"]
