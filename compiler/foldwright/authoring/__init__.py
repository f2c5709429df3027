"""What helps while a recipe is written: text in, changes of the text out. No files, no browser."""
