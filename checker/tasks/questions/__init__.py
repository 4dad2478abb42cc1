"""What to ask so that findings get settled: which answer first, how it is read, where it is written."""
