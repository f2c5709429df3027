"""A piece on its way from flat to finished: paper neither stretches nor tears, and ends as its folds say."""

from __future__ import annotations

from functools import cache
from itertools import combinations
from math import degrees

import numpy as np
import pytest
from shapely.geometry import Polygon

from authoring.texts import NAMES, TEXTS, understood
from foldwright.authoring.frames import Frames, foldable, folded_frames, frames_of, on_the_way, workshop_for
from foldwright.geometry.flat.lines import opening_outline, outline_of, waste_of
from foldwright.geometry.pictures.bending import Bending
from foldwright.geometry.pictures.workshop import Workshop

ROUNDED = 3e-3
"""Millimetres that two rounded places may be off, three times over."""
TUCKED = 10.1
"""Degrees by which pictures draw a leaf open or a flap tucked in, so that both are seen."""


@cache
def workshop_of_all(path) -> Workshop:
    return workshop_for(understood(path)[1])


@cache
def frames(path) -> tuple[Frames, ...]:
    workshop = workshop_of_all(path)
    return tuple(one for name in foldable(understood(path)[1]) if (one := frames_of(workshop, name)))


@cache
def bendings(path) -> tuple[Bending, ...]:
    workshop = workshop_of_all(path)
    return tuple(one for name in foldable(understood(path)[1]) if (one := workshop.bending(name)))


def spots(piece: Frames, frame: int) -> np.ndarray:
    return np.array(piece.frames[frame]).reshape(-1, 3)


def normals(piece: Frames, frame: int, panel) -> np.ndarray:
    """Twice the area of each triangle, standing on its good side."""
    at = spots(piece, frame)[np.array(panel.triangles).reshape(-1, 3)]
    return np.cross(at[:, 1] - at[:, 0], at[:, 2] - at[:, 0])


@pytest.mark.parametrize("path", TEXTS, ids=NAMES)
def test_the_first_frame_is_the_flat_blank(path):
    known = understood(path)[1]
    assert len(frames(path)) == len(foldable(known)) > 0
    for piece, bending in zip(frames(path), bendings(path), strict=True):
        blank = known.flat.blank(piece.piece)
        if blank.pressed or bending.net.loose:
            continue
        at = spots(piece, 0)
        assert np.ptp(at @ np.linalg.svd(at - at.mean(0))[2][2]) < ROUNDED
        paper = Polygon(outline_of(blank), [[(float(x), float(y)) for x, y in ring] for ring in blank.inner])
        for gone in (*map(opening_outline, blank.openings), *waste_of(blank)):
            paper = paper.difference(Polygon(gone))
        area = sum(np.linalg.norm(normals(piece, 0, panel), axis=1).sum() / 2 for panel in piece.panels)
        assert area == pytest.approx(paper.area, rel=2e-3)
        sides = sorted(np.ptp(at, axis=0))
        if not bending.net.stance:
            assert sides[1:] == pytest.approx(sorted((float(blank.width), float(blank.height))), abs=0.6)


@pytest.mark.parametrize("path", TEXTS, ids=NAMES)
def test_no_panel_is_stretched_in_any_frame(path):
    for piece in frames(path):
        pairs = []
        for panel in piece.panels:
            pairs += combinations(sorted(set(panel.triangles)), 2)
        if len(piece.frames) < 2:
            continue
        # The triangles of a rosette are drawn a hair longer or shorter (`pleating`).
        loose = max(np.ptp(spots(piece, 0), axis=0)) * 0.05 if is_pressed(path, piece.piece) else ROUNDED
        ones, others = np.array(pairs).T
        first = np.linalg.norm(spots(piece, 0)[ones] - spots(piece, 0)[others], axis=1)
        for number in range(1, len(piece.frames)):
            at = spots(piece, number)
            assert np.abs(np.linalg.norm(at[ones] - at[others], axis=1) - first).max() < loose, (piece.piece, number)


def is_pressed(path, name: str) -> bool:
    return understood(path)[1].flat.blank(name).pressed


@pytest.mark.parametrize("path", TEXTS, ids=NAMES)
def test_creases_stay_joined_and_paper_is_rigid_to_a_hair(path):
    for bending in bendings(path):
        if bending.net.pressed:
            continue
        hinges = {id(hinge.crease) for hinge in bending.tree.hinges}
        for folded in on_the_way(bending, 7):
            for crease in bending.net.creases:
                if folded.poses[crease.one] is None or folded.poses[crease.other] is None:
                    continue
                # A ring of panels is drawn a little open where it is closed (`bending`), so little that nobody sees it.
                apart = 1e-6 if id(crease) in hinges else 0.02 * bending.net.size + 1e-6
                for point in (crease.start, crease.end):
                    one, other = folded.place(crease.one, point), folded.place(crease.other, point)
                    if not bending.net.curved or id(crease) in hinges:
                        assert np.linalg.norm(np.subtract(one, other)) < apart, bending.net.piece
            for number, panel in folded.panels:
                flat, now = np.array(panel.outline), np.array(folded.corners(number))
                was = np.linalg.norm(flat - np.roll(flat, 1, axis=0), axis=1)
                assert np.abs(np.linalg.norm(now - np.roll(now, 1, axis=0), axis=1) - was).max() < 1e-6


@pytest.mark.parametrize("path", TEXTS, ids=NAMES)
def test_the_last_frame_is_folded_as_every_crease_says(path):
    folds = 0
    for piece, bending in zip(frames(path), bendings(path), strict=True):
        net = bending.net
        if net.curved or net.loose or len(piece.frames) < 2:
            continue
        out = [normals(piece, len(piece.frames) - 1, panel).sum(0) for panel in piece.panels]
        out = [one / np.linalg.norm(one) for one in out]
        for crease in net.creases:
            cosine = np.clip(out[crease.one] @ out[crease.other], -1, 1)
            assert degrees(np.arccos(cosine)) == pytest.approx(abs(crease.angle), abs=TUCKED), (piece.piece, crease)
            folds += 1
    assert folds or all(len(piece.frames) == 1 for piece in frames(path))


@pytest.mark.parametrize("path", TEXTS, ids=NAMES)
def test_triangles_run_anticlockwise_seen_from_the_good_side(path):
    """Outlines of a net run clockwise as they are seen from there."""
    for piece, bending in zip(frames(path), bendings(path), strict=True):
        there = [panel for at, panel in enumerate(bending.net.panels) if at not in bending.net.loose]
        for panel, outline in zip(piece.panels, (one.outline for one in there), strict=True):
            first = min(panel.triangles)
            ring = spots(piece, 0)[first : first + len(outline)]
            clockwise = np.cross(ring, np.roll(ring, -1, axis=0)).sum(0)
            assert (normals(piece, 0, panel) @ clockwise < 0).all(), piece.piece


def test_one_piece_is_asked_for_by_its_name():
    known = understood(TEXTS[0])[1]
    assert folded_frames(known, frames(TEXTS[0])[0].piece) == frames(TEXTS[0])[0]
    assert folded_frames(known, "no such piece") is None
