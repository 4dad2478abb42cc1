"""The one-line drawn: where everything goes, the shapes, and the SVG."""
