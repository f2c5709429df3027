"""What puts a finding right, where its remedy is a text to type: `table` says how for each code, `mends` does it."""
