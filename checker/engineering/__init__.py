"""Pure calculations with worksheets; tables and numbers that a code sets come in as arguments."""
