"""Where generated files go: a plain folder, or a site built by the site engine."""
