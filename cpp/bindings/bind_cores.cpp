#include <pybind11/pybind11.h>
#include <pybind11/stl.h>

#include <optional>

#include "bindings.hpp"
#include "flarenut/heat/core_rating.hpp"
#include "flarenut/heat/exchanger_rating.hpp"

namespace py = pybind11;
using namespace pybind11::literals;

namespace flarenut::bindings {

void bind_cores(py::module_& m) {
  using Numbers = std::map<std::string, double>;
  m.def("core_of_rating",
        [](const fluids::Liquid& liquid, double heat, double liquid_flow, double liquid_inlet, double air_inlet, double face_speed, double face_area,
           double passage_bore, double passage_length, std::optional<double> inside_area, double inside_share, double enhancement, double fouling,
           double speed_exponent) {
          heat::AirCoreSpec<> core;
          core.face_area = Area<>::from_value(face_area);
          core.passage_bore = Length<>::from_value(passage_bore);
          core.passage_length = Length<>::from_value(passage_length);
          core.enhancement = Ratio<>::from_value(enhancement);
          core.fouling = Ratio<>::from_value(fouling);
          core.speed_exponent = Ratio<>::from_value(speed_exponent);
          heat::CoreRating rating;
          rating.heat = Power<>::from_value(heat);
          rating.liquid_flow = VolumeFlow<>::from_value(liquid_flow);
          rating.liquid_inlet = Temperature<>::from_value(liquid_inlet);
          rating.air_inlet = Temperature<>::from_value(air_inlet);
          rating.face_speed = Velocity<>::from_value(face_speed);
          if (inside_area) {
            core.inside_area = Area<>::from_value(*inside_area);
            core.outside_conductance = heat::outside_conductance_from_rating(core, rating, liquid);
            core.reference_speed = rating.face_speed;
          } else {
            core = heat::core_by_inside_share(core, rating, liquid, inside_share);
          }
          return Numbers{{"face_area", face_area}, {"passage_bore", passage_bore}, {"passage_length", passage_length},
                         {"inside_area", core.inside_area.value()}, {"enhancement", core.enhancement.value()}, {"fouling", fouling},
                         {"outside_conductance", core.outside_conductance.value()}, {"reference_speed", face_speed},
                         {"speed_exponent", speed_exponent}};
        },
        "liquid"_a, py::kw_only(), "heat"_a, "liquid_flow"_a, "liquid_inlet"_a, "air_inlet"_a, "face_speed"_a, "face_area"_a, "passage_bore"_a,
        "passage_length"_a, "inside_area"_a = py::none(), "inside_share"_a = 0.5, "enhancement"_a = 1.0, "fouling"_a = 0.0, "speed_exponent"_a = 0.6,
        R"(Numbers of an "air core" that gives a rating back: cpp/flarenut/heat/core_rating.hpp.

liquid as `flarenut.fluids` makes it (its `.liquid`); heat [W] given up; liquid_flow [m3/s] at liquid_inlet [K]; air_inlet [K]; face_speed [m/s];
face_area [m2]; passage_bore and passage_length [m]; inside_area [m2], or the share of the resistance that lies inside at the rating:
then area and enhancement are found, the area as 7 times the face where that will do. The rating is of a clean core; fouling comes on top.
InputError naming the field where the rating asks for more than flows and passages can do.

>>> import flarenut as fn
>>> from flarenut._core.heat_transfer import core_of_rating
>>> oil = fn.fluid("SAE 10W-40").liquid
>>> core = core_of_rating(oil, heat=8e3, liquid_flow=20 / 6e4, liquid_inlet=383.0, air_inlet=303.0, face_speed=5.0, face_area=0.06,
...                       passage_bore=3e-3, passage_length=0.3)
>>> 100 < core["outside_conductance"] < 1000
True
)");
  m.def("exchanger_of_rating",
        [](const fluids::Liquid& first, const fluids::Liquid& second, double heat, double first_flow, double second_flow, double first_inlet,
           double second_inlet, double first_bore, double first_length, double second_bore, double second_length, std::optional<double> first_area,
           std::optional<double> second_area, double first_enhancement, double second_enhancement, double first_share, double arrangement) {
          heat::LiquidExchangerSpec<> known;
          known.first_bore = Length<>::from_value(first_bore);
          known.first_length = Length<>::from_value(first_length);
          known.first_area = Area<>::from_value(first_area.value_or(0.0));
          known.first_enhancement = Ratio<>::from_value(first_enhancement);
          known.second_bore = Length<>::from_value(second_bore);
          known.second_length = Length<>::from_value(second_length);
          known.second_area = Area<>::from_value(second_area.value_or(0.0));
          known.second_enhancement = Ratio<>::from_value(second_enhancement);
          known.arrangement = Ratio<>::from_value(arrangement);
          heat::ExchangerRating rating;
          rating.heat = Power<>::from_value(heat);
          rating.first_flow = VolumeFlow<>::from_value(first_flow);
          rating.second_flow = VolumeFlow<>::from_value(second_flow);
          rating.first_inlet = Temperature<>::from_value(first_inlet);
          rating.second_inlet = Temperature<>::from_value(second_inlet);
          rating.first_share = first_share;
          const auto made = heat::exchanger_by_rating(known, rating, first, second);
          Numbers numbers;
          std::apply([&](const auto&... field) { ((numbers[std::string(field.name)] = (made.*field.member).value()), ...); },
                     heat::LiquidExchangerSpec<>::fields());
          return numbers;
        },
        "first"_a, "second"_a, py::kw_only(), "heat"_a, "first_flow"_a, "second_flow"_a, "first_inlet"_a, "second_inlet"_a, "first_bore"_a,
        "first_length"_a, "second_bore"_a, "second_length"_a, "first_area"_a = py::none(), "second_area"_a = py::none(), "first_enhancement"_a = 1.0,
        "second_enhancement"_a = 1.0, "first_share"_a = 0.5, "arrangement"_a = 0.0,
        R"(Numbers of a "liquid exchanger" that gives a rating back: cpp/flarenut/heat/exchanger_rating.hpp.

first, second: liquids as `flarenut.fluids` makes them (their `.liquid`); heat [W] from the hotter to the colder; flows [m3/s] at the inlet
temperatures [K]; bores and lengths of the passages [m]; areas [m2] where known. A side without one has that of the other; with neither it is
found from the enhancement given on the side of the thicker liquid. Enhancements are found. first_share of the resistance on the first side; arrangement 0 counterflow to 6, as in liquid_exchanger.hpp.
InputError naming the field where the rating asks for more than flows and passages can do.

>>> import flarenut as fn
>>> from flarenut._core.heat_transfer import exchanger_of_rating
>>> made = exchanger_of_rating(fn.fluid("SAE 10W-40").liquid, fn.fluid("water").liquid, heat=8e3, first_flow=20 / 6e4, second_flow=40 / 6e4,
...                            first_inlet=393.0, second_inlet=353.0, first_bore=4e-3, first_length=0.15, second_bore=4e-3, second_length=0.15)
>>> 0.01 < made["first_area"] < 5.0
True
)");
}

}  // namespace flarenut::bindings
