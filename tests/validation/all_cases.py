"""Every published case of the project, topic by topic, in the order in which the verification dossier shows them."""

import cases_fittings
import cases_fluid_data
import cases_fluid_laws
import cases_friction
import cases_heat_examples
import cases_heat_tables
import cases_local_losses
import cases_networks
import cases_oils
import cases_pumps
import cases_service_fluids
import cases_single_lines
import cases_tees
import cases_threads
import cases_tubes

MODULES = (cases_friction, cases_single_lines, cases_fittings, cases_local_losses, cases_tees, cases_networks, cases_pumps, cases_heat_examples,
           cases_heat_tables, cases_fluid_laws, cases_fluid_data, cases_oils, cases_service_fluids, cases_tubes, cases_threads)
# Topic, and the folder of tests/data whose SOURCES.md explains its keys.
TOPICS = {"friction": "hydraulics", "lines": "hydraulics", "local losses": "hydraulics", "tees": "hydraulics", "networks": "hydraulics",
          "pumps and suction": "hydraulics", "exchangers": "hydraulics", "films": "hydraulics", "fluid laws": "fluids",
          "water and alcohols": "fluids", "fuels": "fluids", "oils": "fluids", "brake fluids and coolants": "fluids", "air and refrigerants": "fluids",
          "tubes and hoses": "hardware", "threads": "hardware", "torque and flats": "hardware"}


def all_cases():
    """As a list, by topic; within a topic as the modules give them."""
    order = list(TOPICS)
    return sorted((case for module in MODULES for case in module.cases()), key=lambda case: order.index(case.topic))
