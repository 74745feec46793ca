"""Estimates, pure: rules per repair type, what comes off paid once, minutes, wire and parts."""
