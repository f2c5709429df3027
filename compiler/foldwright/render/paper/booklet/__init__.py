"""A booklet on paper: its own pages, the pages of recipes bound with them, and sheets to fold and staple."""
