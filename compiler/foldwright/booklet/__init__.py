"""Several recipes as one booklet: what is asked for, read; then all of it made. Opens no file."""
