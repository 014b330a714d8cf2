"""One file a check: a solved level in, findings out; here the tuple that names them all, the most dangerous first."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from bookgen.model.problem import Finding, Problem, Severity
from bookgen.model.project import Project
from bookgen.solve.checks import (
    access_shut_in,
    alarm_not_recorded,
    appliance_service_space,
    appliance_way_out,
    board_not_flush,
    board_spans_too_far,
    box_shut_in,
    breaker_too_high,
    breakers_misplaced,
    breakers_over_steps,
    burning_air_short,
    cleanout_clearance,
    cleanout_cover,
    closet_slot,
    condensate_drain,
    door_swing_blocked,
    dryer_too_long,
    egress_shut_in,
    fireblock_places,
    floor_drain_covered,
    floor_underside_bare,
    flue_too_near,
    headroom_low,
    obstacle_goes_on,
    opening_too_small,
    panel_door_blocked,
    panel_space_above,
    panel_space_stored,
    panel_working_space,
    piece_too_long,
    pit_lid_covered,
    plate_needed,
    radon_pipe_unwatched,
    shock_guard_not_recorded,
    side_in_wall,
    stair_headroom_low,
    stair_out_of_limits,
    structure_cut,
    structure_loaded,
    stud_cut_too_far,
    taped_size_differs,
    tie_disagrees,
    tie_through_wall,
    top_plate_cut,
    treatment_undecided,
    under_stair_bare,
    untreated_on_concrete,
    valve_shut_in,
    vent_without_clearance,
    window_well_small,
    wood_cut_too_far,
    work_meets_work,
)
from bookgen.solve.checks.answers import answer_problems, settled
from bookgen.solve.checks.reach import with_access
from bookgen.solve.checks.sight import Sight, sight
from bookgen.solve.checks.spots import with_spots

Check = Callable[[Sight], Iterator[Finding]]
CHECKS: tuple[tuple[str, Check], ...] = tuple(
    (module.CODE, module.check)
    for module in (
        burning_air_short,
        flue_too_near,
        alarm_not_recorded,
        egress_shut_in,
        window_well_small,
        structure_cut,
        structure_loaded,
        wood_cut_too_far,
        stud_cut_too_far,
        top_plate_cut,
        panel_working_space,
        panel_space_above,
        panel_door_blocked,
        panel_space_stored,
        breakers_misplaced,
        breaker_too_high,
        breakers_over_steps,
        plate_needed,
        shock_guard_not_recorded,
        valve_shut_in,
        box_shut_in,
        pit_lid_covered,
        floor_drain_covered,
        stair_out_of_limits,
        vent_without_clearance,
        stair_headroom_low,
        under_stair_bare,
        floor_underside_bare,
        fireblock_places,
        cleanout_clearance,
        cleanout_cover,
        access_shut_in,
        appliance_service_space,
        appliance_way_out,
        door_swing_blocked,
        dryer_too_long,
        condensate_drain,
        radon_pipe_unwatched,
        headroom_low,
        opening_too_small,
        board_spans_too_far,
        board_not_flush,
        taped_size_differs,
        untreated_on_concrete,
        piece_too_long,
        obstacle_goes_on,
        work_meets_work,
        side_in_wall,
        closet_slot,
        treatment_undecided,
        tie_disagrees,
        tie_through_wall,
    )
)
GRAVEST_FIRST = (Severity.STOP, Severity.ASK, Severity.NOTE, Severity.WITHIN)


def findings(seen: Sight) -> tuple[Finding, ...]:
    """Return what every check found, the gravest first, else in the order of the checks; with what was answered."""
    seen = with_access(seen)
    found = settled(seen.project, [finding for _, check in CHECKS for finding in check(seen)])
    return tuple(sorted(with_spots(seen, found), key=lambda finding: GRAVEST_FIRST.index(finding.severity)))


def answers_refused(project: Project, found: tuple[Finding, ...]) -> tuple[Problem, ...]:
    """Return the Problems of the answers in the records, as `answer_problems` does."""
    return answer_problems(project, found, tuple(code for code, _ in CHECKS))


__all__ = ["CHECKS", "Sight", "answers_refused", "findings", "sight"]
