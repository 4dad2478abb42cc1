"""The generating set: what it gives where it stands, and what it bears when loads come on."""
