"""From a site file to stated facts with positions."""
