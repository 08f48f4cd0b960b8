"""Engineering: cold-room sums on plain numbers in SI.

In: numbers. Out: numbers with what they were worked out from. Never: knowledge, a case, a sentence.
"""

from assistant.engineering.air import (
    Air,
    moist_air,
    moist_air_by_wet_bulb,
    pressure_at_height_pa,
    saturation_pa,
)
from assistant.engineering.bands import (
    shares_of_bands,
)
from assistant.engineering.capacity import (
    Delivered,
    delivered_cooling,
    frosts_below_c,
    power_ratio,
    run_share,
    sensible_share,
    split_k,
)
from assistant.engineering.commodities import (
    Commodity,
    advised_target_c,
    all_commodities,
    commodity,
    respiration_mw_kg,
)
from assistant.engineering.contents import (
    Chill,
    chill,
    electric_w,
    motor_w,
    people_w,
    respiration_w,
    water_heat_kj_kgk,
)
from assistant.engineering.errors import (
    OutOfRangeError,
)
from assistant.engineering.food_limits import (
    FoodKind,
    FoodLimit,
    Jurisdiction,
    food_limit,
)
from assistant.engineering.footing import (
    Footing,
    Range,
    Term,
)
from assistant.engineering.frosting import (
    Thaw,
    frost_kg,
    melting_min_per_kg,
    thaw_after_run,
)
from assistant.engineering.gases import (
    CarbonDioxide,
    ChargeInRoom,
    carbon_dioxide,
    charge_in_room,
    from_ferment_kg,
    hours_to_work_limit,
)
from assistant.engineering.infiltration import (
    Door,
    changes_a_day,
    door_velocity_m3_s,
    heat_by_changes_w,
    heat_by_door_w,
    open_door_w,
)
from assistant.engineering.insulation import (
    Layer,
    u_framed_w_m2k,
    u_w_m2k,
    wet_conductivity_w_mk,
)
from assistant.engineering.keeping import (
    USUAL_Q10,
    Outage,
    days_lost,
    food_clock,
    outage,
    q10,
    q10_of,
)
from assistant.engineering.load import (
    Batch,
    Load,
    RoomJob,
    Worth,
    heat_load,
)
from assistant.engineering.matching import (
    Match,
    MatchState,
    match_of,
)
from assistant.engineering.planned_rooms import (
    BIGGEST_W,
    FLOOR_C,
    Plan,
    plan_of,
)
from assistant.engineering.power import (
    Bill,
    Drop,
    Generator,
    circuit_fit,
    cop_of_eer,
    fault_costs,
    generator_size,
    monthly_bill,
    voltage_drop,
)
from assistant.engineering.probes import (
    Comparison,
    beta_c,
    beta_error_k,
    ice_point,
    misread_c,
    probe_wiring,
    pt100_c,
    pt100_ohm,
    side_by_side,
    thermistor_c,
    thermistor_ohm,
)
from assistant.engineering.pull_down import (
    ColdRoom,
    PullDown,
    expected_pull_down,
)
from assistant.engineering.readings import (
    READING_SIGMA_K,
    compared_shares,
)
from assistant.engineering.settling import (
    TYPICAL_TAU_H,
    Expectation,
    expected_after_fix,
    settling_c,
    stopped_short_share,
    worked_share,
)
from assistant.engineering.sizing import (
    Fit,
    Need,
    Reach,
    coldest_room,
    unit_fit,
    unit_for,
)
from assistant.engineering.surfaces import (
    Surface,
    outer_wall,
    touched_surface,
)
from assistant.engineering.told_pull_down import (
    told_pull_down,
    told_tau_h,
)
from assistant.engineering.told_rooms import (
    USUAL_TARGET_C,
    DoorUse,
    ToldRoom,
    Walls,
    Way,
    ways_of,
)
from assistant.engineering.transmission import (
    SUN_K,
    Face,
    box_faces,
    heat_through_w,
)
from assistant.engineering.trend import (
    RoomReading,
    Trend,
    trend_of,
)
from assistant.engineering.units import (
    celsius_of,
    metres_of,
)
from assistant.engineering.water import (
    Brought,
    brought_by_m3,
    brought_by_opening,
    ice_a_day_kg,
)

__all__ = [
    "BIGGEST_W",
    "FLOOR_C",
    "READING_SIGMA_K",
    "SUN_K",
    "TYPICAL_TAU_H",
    "USUAL_Q10",
    "USUAL_TARGET_C",
    "Air",
    "Batch",
    "Bill",
    "Brought",
    "CarbonDioxide",
    "ChargeInRoom",
    "Chill",
    "ColdRoom",
    "Commodity",
    "Comparison",
    "Delivered",
    "Door",
    "DoorUse",
    "Drop",
    "Expectation",
    "Face",
    "Fit",
    "FoodKind",
    "FoodLimit",
    "Footing",
    "Generator",
    "Jurisdiction",
    "Layer",
    "Load",
    "Match",
    "MatchState",
    "Need",
    "OutOfRangeError",
    "Outage",
    "Plan",
    "PullDown",
    "Range",
    "Reach",
    "RoomJob",
    "RoomReading",
    "Surface",
    "Term",
    "Thaw",
    "ToldRoom",
    "Trend",
    "Walls",
    "Way",
    "Worth",
    "advised_target_c",
    "all_commodities",
    "beta_c",
    "beta_error_k",
    "box_faces",
    "brought_by_m3",
    "brought_by_opening",
    "carbon_dioxide",
    "celsius_of",
    "changes_a_day",
    "charge_in_room",
    "chill",
    "circuit_fit",
    "coldest_room",
    "commodity",
    "compared_shares",
    "cop_of_eer",
    "days_lost",
    "delivered_cooling",
    "door_velocity_m3_s",
    "electric_w",
    "expected_after_fix",
    "expected_pull_down",
    "fault_costs",
    "food_clock",
    "food_limit",
    "from_ferment_kg",
    "frost_kg",
    "frosts_below_c",
    "generator_size",
    "heat_by_changes_w",
    "heat_by_door_w",
    "heat_load",
    "heat_through_w",
    "hours_to_work_limit",
    "ice_a_day_kg",
    "ice_point",
    "match_of",
    "melting_min_per_kg",
    "metres_of",
    "misread_c",
    "moist_air",
    "moist_air_by_wet_bulb",
    "monthly_bill",
    "motor_w",
    "open_door_w",
    "outage",
    "outer_wall",
    "people_w",
    "plan_of",
    "power_ratio",
    "pressure_at_height_pa",
    "probe_wiring",
    "pt100_c",
    "pt100_ohm",
    "q10",
    "q10_of",
    "respiration_mw_kg",
    "respiration_w",
    "run_share",
    "saturation_pa",
    "sensible_share",
    "settling_c",
    "shares_of_bands",
    "side_by_side",
    "split_k",
    "stopped_short_share",
    "thaw_after_run",
    "thermistor_c",
    "thermistor_ohm",
    "told_pull_down",
    "told_tau_h",
    "touched_surface",
    "trend_of",
    "u_framed_w_m2k",
    "u_w_m2k",
    "unit_fit",
    "unit_for",
    "voltage_drop",
    "water_heat_kj_kgk",
    "ways_of",
    "wet_conductivity_w_mk",
    "worked_share",
]
