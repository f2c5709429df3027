"""A kit that reads a PDF back with libraries that had no part in making it, and complains about what it finds.

Functions from the bytes of a file to values, and from values to complaints: a list of sentences, empty when all is
well. pdfplumber (pdfminer) reads glyphs and strokes, pikepdf (qpdf) the objects and the structure, PDFium (pypdfium2)
draws the page to see where there is ink, fontTools opens the fonts. Places are points from the page's top left corner.
"""
