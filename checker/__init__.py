"""Compliance checker for standby power: rules as data, applied to a site description."""

__version__ = "0.1.0"
