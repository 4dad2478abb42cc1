"""Fuel: what the engine asks for, what pipe, tank and cold let through, and how long it lasts."""
