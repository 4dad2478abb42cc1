"""Conductors and their protection: what they carry, how large they have to be, and what voltage is lost on them."""
