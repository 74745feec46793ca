"""The only place that knows SQL and peewee."""
