"""The papers of an event, set: PDFs to print, and one page for a tablet."""
