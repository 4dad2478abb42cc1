"""The review as one page that can be filed and printed."""
