"""Sources that run beside the utility."""
