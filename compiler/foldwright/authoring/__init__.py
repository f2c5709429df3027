"""What helps while a recipe is written: what stands where, what may stand there, what to put in, what a word means.

Texts in, data out: nothing here opens a file or knows a browser.
"""
