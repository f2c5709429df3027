"""Pieces as files for machines and other programs: SVG, DXF and FOLD, all from the same contours."""
