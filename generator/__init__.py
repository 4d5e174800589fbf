"""Cell Almanac: YAML records of cell chemistries become a static reference site."""
