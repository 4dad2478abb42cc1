"""The label sheet: schedule, data, and workshop drawing."""
