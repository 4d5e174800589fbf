"""The rules beyond shape: one small function each, all listed here, each with a bad case in tests/cases/bad."""

from generator.check.rules import cells, charging, editions, ids, publications, quantities, values, voltages

RULES = (
    ids.id_is_file_name,
    ids.ids_unique,
    ids.keys_unique,
    ids.key_is_not_a_variant,
    ids.variant_declared,
    quantities.quantity_known,
    quantities.unit_known,
    quantities.unit_fits,
    quantities.plausible,
    values.some_figure,
    values.ordered,
    values.locator_present,
    values.source_present,
    values.working_shown,
    publications.source_exists,
    publications.source_used,
    publications.author_named,
    voltages.choice_fits,
    voltages.needed_voltages,
    voltages.voltages_in_order,
    voltages.window_open,
    charging.never_charged,
    charging.no_voltage_limit,
    charging.nickel_says_how,
    charging.lead_acid_temperature,
    *cells.CELL_RULES,
    *editions.EDITION_RULES,
)
