"""Circuit files that come with flarenut. Everything in them is invented."""
