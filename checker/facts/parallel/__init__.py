"""Inverters that feed a bus beside the utility."""
