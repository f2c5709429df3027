"""Cards and handouts: a sheet set on paper."""
