"""The desk that the screens are tried on."""

from tests.desk.conftest import bench

__all__ = ["bench"]
