"""Figures that are good alone and cannot be bound together: one sentence for the first that cannot."""

from __future__ import annotations

from coverlayout.book.binding.quarter import check_laps
from coverlayout.book.binding.slipcase import check_walls
from coverlayout.book.book import Book
from coverlayout.book.lining.liners import liner_size_mm
from coverlayout.book.measures import Measures
from coverlayout.book.rules.belonging import WRAPPED, belongs
from coverlayout.book.rules.figures import figure_mm
from coverlayout.book.turn_ins import least_mitre_distance_mm, mitre_overlap_mm, turn_in_mm, turned_edges
from coverlayout.errors import BadInput
from coverlayout.geometry.tolerance import SAME_LENGTH_MM

__all__ = ["check_combinations"]


def check_combinations(book: Book, figures: Measures) -> None:
    """Nothing, or BadInput for what cannot be bound on these boards round this block."""
    _check_board(book, figures)
    _check_turn_ins(book, figures)
    _check_spine(book, figures)
    _check_hinge(book, figures)
    _check_cloth_of_spine(book, figures)
    check_laps(book, figures)
    check_walls(book)
    _check_liners(book, figures)
    _check_mitre(book, figures)


def _check_board(book: Book, figures: Measures) -> None:
    """Something is left of the board, and of a block that was measured with its boards."""
    thick_mm = figures.board_thickness_mm
    if book.structure == "exposed-spine-wrap" and figures.thickness_mm <= SAME_LENGTH_MM:
        found_mm = figures.thickness_mm + 2 * thick_mm
        raise BadInput("wrap-boards-too-thick", book=book.name, found_exact_mm=found_mm, boards_exact_mm=2 * thick_mm)
    width_mm = figures.board_mm[0]
    if width_mm <= SAME_LENGTH_MM:
        left_mm = width_mm + figures.setback_mm
        raise BadInput("setback-leaves-nothing", book=book.name, setback_mm=figures.setback_mm, width_mm=left_mm)


def _check_turn_ins(book: Book, figures: Measures) -> None:
    """Cloth turned in from two sides would meet and lie double."""
    width_mm, height_mm = figures.board_mm
    for edge in turned_edges(book.structure):
        half_mm = (height_mm if edge in ("head", "tail") else width_mm) / 2
        found_mm = turn_in_mm(book.turn_ins, edge)
        if found_mm > half_mm + SAME_LENGTH_MM:
            # With the board's size, so that one typed in another unit shows itself.
            raise BadInput(
                "turn-in-too-wide",
                book=book.name,
                edge=edge,
                found_exact_mm=found_mm,
                most_exact_mm=half_mm,
                width_exact_mm=width_mm,
                height_exact_mm=height_mm,
            )
    if book.turned_in_flap_mm > width_mm + SAME_LENGTH_MM and book.structure == "limp-wrap":
        raise BadInput("flap-too-wide", book=book.name, found_exact_mm=book.turned_in_flap_mm, most_exact_mm=width_mm)


def _check_spine(book: Book, figures: Measures) -> None:
    """A joint within the board; a spine piece of board that covers both boards at least; some spine left."""
    width_mm = figures.board_mm[0]
    if figures.joint_mm > width_mm + SAME_LENGTH_MM:
        raise BadInput("joint-too-wide", book=book.name, joint_mm=figures.joint_mm, most_mm=width_mm)
    # A round spine is measured between the boards, not over them.
    over_boards = figures.spine_piece == "board" and book.structure != "rounded-case"
    least_mm = 2 * figures.board_thickness_mm
    if over_boards and figures.spine_mm is not None and figures.spine_mm < least_mm - SAME_LENGTH_MM:
        raise BadInput("spine-too-thin", book=book.name, spine_exact_mm=figures.spine_mm, least_exact_mm=least_mm)
    if book.structure in WRAPPED and figures.over_spine_mm <= SAME_LENGTH_MM:
        wide_mm = figures.over_spine_mm - figure_mm(book, "spine_allowance_mm")
        raise BadInput("spine-nothing-left", book=book.name, width_mm=wide_mm)


def _check_hinge(book: Book, figures: Measures) -> None:
    """Of a side-sewn cover something is left to turn."""
    taken_mm, width_mm = figures.hinge_mm + figures.joint_mm, figures.board_mm[0]
    if book.structure == "side-sewn" and taken_mm >= width_mm - SAME_LENGTH_MM:
        raise BadInput("hinge-too-wide", book=book.name, taken_mm=taken_mm, width_mm=width_mm)


def _check_cloth_of_spine(book: Book, figures: Measures) -> None:
    """The cloth of the spine leaves something to the sides, and two corners do not meet along an edge."""
    if book.structure not in ("quarter-case", "half-case"):
        return
    width_mm, height_mm = figures.board_mm
    on_board_mm, leg_mm = figures.spine_on_board_mm, figures.corner_leg_mm
    if on_board_mm >= width_mm - SAME_LENGTH_MM:
        raise BadInput("spine-on-board-too-wide", book=book.name, found_mm=on_board_mm, width_mm=width_mm)
    most_mm = min(width_mm - on_board_mm, height_mm / 2)
    if leg_mm > most_mm + SAME_LENGTH_MM:
        raise BadInput("corner-too-long", book=book.name, found_exact_mm=leg_mm, most_exact_mm=most_mm)


def _check_liners(book: Book, figures: Measures) -> None:
    if book.liners == "none" or not belongs("liners", book.structure):
        return
    if min(liner_size_mm(book, figures.board_mm)) <= SAME_LENGTH_MM:
        raise BadInput("liner-nothing-left", book=book.name, inset_mm=book.liner_inset_mm)


def _check_mitre(book: Book, figures: Measures) -> None:
    if book.mitre_distance_mm is None or not belongs("mitre_distance_mm", book.structure):
        return
    if mitre_overlap_mm(figures.mitre_mm, figures.board_thickness_mm) < -SAME_LENGTH_MM:
        least_mm = least_mitre_distance_mm(figures.board_thickness_mm)
        raise BadInput("mitre-gapes", book=book.name, distance_mm=figures.mitre_mm, least_mm=least_mm)
