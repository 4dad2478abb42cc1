"""Loads of buildings by the methods of the code: what a service or a source must carry."""
