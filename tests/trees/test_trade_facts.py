"""What high-lift and spoiler systems commonly do, held against the logic of our own aircraft.

Every expected value here is common practice, no source. The aircraft is invented: the tests say
that its systems behave as a technician would expect, not that any real aircraft is built so.
"""

from __future__ import annotations

import pytest

from tests.trees.demonstration import aircraft

DEAD_WHEEL_SIGNAL = ["wheel-speed-unit-silent"]
DEAD_STRUTS = ["ground-relay-1-open"]


def test_all_panels_rise_by_themselves_at_landing() -> None:
    """Armed, low, on the struts, at idle and with the wheels turning, all panels rise (common practice, no source)."""
    landing = aircraft("landing-roll")
    assert landing.node("spoilers/lever-driven-up")
    assert landing.node("spoilers/every-panel-up")


@pytest.mark.parametrize("missing", ["lever-armed", "below-ten-feet", "thrust-idle"])
def test_each_landing_condition_is_needed(missing: str) -> None:
    """Without ARM, low height or idle thrust the panels stay down at landing (common practice, no source)."""
    landing = aircraft("landing-roll", facts={missing: False})
    assert not landing.node("spoilers/any-flight-panel-up")
    assert not landing.node("spoilers/any-ground-panel-up")


def test_wheel_speed_or_struts_are_needed() -> None:
    """In the air with the wheels at rest nothing rises, all other conditions being met (common practice, no source)."""
    flare = aircraft("landing-roll", facts={"on-wheels": False, "wheels-fast": False})
    assert not flare.node("spoilers/any-flight-panel-up")


def test_struts_deploy_where_the_wheel_signal_is_lost() -> None:
    """Without the wheel signal, the compressed struts still deploy the panels (common practice, no source)."""
    assert aircraft("landing-roll", DEAD_WHEEL_SIGNAL).node("spoilers/every-panel-up")
    assert aircraft("landing-roll", facts={"wheels-fast": False}).node("spoilers/every-panel-up")


def test_wheel_speed_deploys_the_flight_panels_before_the_struts_settle() -> None:
    """With the wheels turning and the struts long, flight panels rise and ground panels wait (common practice)."""
    touchdown = aircraft("landing-roll", facts={"on-wheels": False})
    assert touchdown.node("spoilers/any-flight-panel-up")
    assert not touchdown.node("spoilers/any-ground-panel-up")


def test_ground_panels_open_through_an_interlock_of_the_strut() -> None:
    """Ground panels need the interlock that a strut works, flight panels do not (common practice, no source)."""
    landing = aircraft("landing-roll", ["interlock-cable-slack"])
    assert landing.node("spoilers/any-flight-panel-up")
    assert not landing.node("spoilers/any-ground-panel-up")
    assert not aircraft("speed-brakes-raised").node("spoilers/any-ground-panel-up")


def test_a_rejected_take_off_deploys_without_arming() -> None:
    """Not armed: wheel speed, idle and reverse deploy the panels; each of the three is needed (common practice)."""
    assert aircraft("rejected-take-off").node("spoilers/every-panel-up")
    for missing in ("wheels-fast", "thrust-idle", "reverse-selected"):
        assert not aircraft("rejected-take-off", facts={missing: False}).node("spoilers/any-flight-panel-up")


def test_advancing_thrust_stows_the_panels() -> None:
    """Thrust levers advanced on the ground drive the lever down again (common practice, no source)."""
    assert not aircraft("touch-and-go").node("spoilers/lever-stays-up")
    assert aircraft("touch-and-go", facts={"thrust-idle": True}).node("spoilers/lever-stays-up")


def test_the_stop_limits_the_lever_in_flight_with_flaps_up() -> None:
    """The stop is in during flight with flaps up, and out on the ground or with flaps down (common practice)."""
    assert aircraft("cruise").node("spoilers/stop-engaged")
    assert not aircraft("cruise", facts={"flaps-selected": True}).node("spoilers/stop-engaged")
    assert not aircraft("taxi").node("spoilers/stop-engaged")


def test_loss_of_power_withdraws_the_stop() -> None:
    """The stop is withdrawn when its electrical power is lost (common practice, no source)."""
    assert not aircraft("cruise", ["lever-drive-breaker-out"]).node("spoilers/stop-engaged")


def test_raised_panels_are_warned_of_when_low_or_set_for_landing() -> None:
    """Panels up in flight are warned of below 800 ft or with landing flaps, and not in cruise (common practice)."""
    assert not aircraft("speed-brakes-raised").node("spoilers/extended-light")
    assert aircraft("speed-brakes-raised", facts={"below-800-feet": True}).node("spoilers/extended-light")
    assert aircraft("speed-brakes-raised", facts={"landing-flaps-selected": True}).node("spoilers/extended-light")
    assert not aircraft("landing-roll").node("spoilers/extended-light")


def test_leading_edge_follows_the_flaps_in_sequence() -> None:
    """The leading edge comes out as soon as the flaps leave UP, and not before them (common practice, no source)."""
    assert not aircraft("cruise").node("leading-edge/any-device-out")
    assert aircraft("approach").node("leading-edge/left-slats-out")
    assert not aircraft("approach", ["flap-gearbox-jammed"]).node("leading-edge/any-device-out")


def test_the_transit_light_means_moving_or_disagreeing() -> None:
    """The amber light is on in travel and where a device is not where it should be (common practice, no source)."""
    assert aircraft("approach-travelling").node("leading-edge/transit-light-seen")
    for situation in ("cruise", "approach", "alternate-extension"):
        assert not aircraft(situation).node("leading-edge/transit-light-seen")
    assert aircraft("cruise", ["left-slats-jammed-out"]).node("leading-edge/transit-light-seen")
    assert aircraft("approach", ["left-slats-jammed-in"]).node("leading-edge/transit-light-seen")


def test_the_reserve_supply_only_extends() -> None:
    """Armed, the reserve supply drives the leading edge out wherever the levers stand (common practice, no source)."""
    lever_down, switch_up = {"flaps-selected": True}, {"alternate-up": True, "alternate-down": False}
    for facts in ({}, lever_down, switch_up):
        state = aircraft("alternate-extension", ["system-2-fluid-lost"], facts)
        assert state.node("leading-edge/left-slats-out")
    assert not aircraft("alternate-extension", ["reserve-pump-dead"]).node("leading-edge/any-device-out")


def test_an_electric_motor_moves_the_flaps_both_ways() -> None:
    """The alternate motor drives the flaps down and up, without hydraulic pressure (common practice, no source)."""
    assert aircraft("parked-alternate").node("flaps/flaps-at-setting")
    assert aircraft("parked-alternate-up").node("flaps/drive-turned-up")
    assert not aircraft("parked-alternate-up", ["alternate-motor-dead"]).node("flaps/drive-turned-up")


def test_the_transfer_unit_takes_over_from_a_weak_pump() -> None:
    """A weak engine pump is made up for by the transfer unit, which rests otherwise (common practice, no source)."""
    assert not aircraft("cruise").node("hydraulics/transfer-unit-runs")
    weak = aircraft("cruise", ["engine-pump-2-worn"])
    assert weak.node("hydraulics/transfer-unit-runs")
    assert weak.node("hydraulics/system-2-full-flow")
    both = aircraft("cruise", ["engine-pump-2-worn", "transfer-unit-seized"])
    assert both.node("hydraulics/system-2-pressure")
    assert not both.node("hydraulics/system-2-full-flow")


def test_load_relief_retracts_while_the_lever_stays() -> None:
    """Above the limit speed the landing setting is taken back and the lever stays where it is (common practice)."""
    fast = aircraft("approach-fast")
    assert fast.node("flaps/relief-acts")
    assert not fast.node("flaps/landing-setting-held")
    assert fast.node("flaps/lever-sensed-down")
    assert aircraft("approach").node("flaps/landing-setting-held")


def test_asymmetry_protection_stops_the_drive() -> None:
    """A difference between the wings stops the hydraulic drive, unless the protection has failed too (practice)."""
    assert aircraft("approach", ["left-shaft-broken"]).node("flaps/drive-stopped")
    assert not aircraft("approach", ["left-shaft-broken", "comparator-deaf"]).node("flaps/drive-stopped")
    assert not aircraft("approach").node("flaps/drive-stopped")


def test_one_generator_carries_both_sides() -> None:
    """With one generator lost the tie keeps every bus alive (common practice, no source)."""
    one = aircraft("cruise", ["generator-1-dead"])
    for bus in ("ac-bus-1", "ac-bus-2", "dc-bus-1", "dc-bus-2", "essential-bus"):
        assert one.node(f"electrical/{bus}-live")
    assert not aircraft("cruise", ["generator-1-dead", "bus-tie-stuck-open"]).node("electrical/ac-bus-1-live")


def test_one_strut_sensor_is_outvoted() -> None:
    """Two of three strut sensors decide between air and ground (common practice, no source)."""
    assert aircraft("taxi", ["left-strut-sensor-dead"]).node("air-ground/ground-mode-1")
    assert not aircraft("taxi", ["left-strut-sensor-dead", "nose-strut-sensor-dead"]).node("air-ground/ground-mode-1")
    assert not aircraft("cruise", ["right-strut-sensor-stuck"]).node("air-ground/ground-mode-1")


@pytest.mark.parametrize("lost", [DEAD_WHEEL_SIGNAL, DEAD_STRUTS], ids=["wheels", "struts"])
def test_one_lost_path_alone_keeps_no_panel_down(lost: list[str]) -> None:
    """Wheel speed and struts stand in for each other at landing (common practice, no source)."""
    assert aircraft("landing-roll", lost).node("spoilers/every-panel-up")
    assert not aircraft("landing-roll", [*DEAD_WHEEL_SIGNAL, *DEAD_STRUTS]).node("spoilers/any-flight-panel-up")
