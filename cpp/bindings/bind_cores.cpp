#include <pybind11/pybind11.h>
#include <pybind11/stl.h>

#include <optional>

#include "bindings.hpp"
#include "flarenut/heat/core_rating.hpp"

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
                         {"inside_area", core.inside_area.value()}, {"enhancement", enhancement}, {"fouling", fouling},
                         {"outside_conductance", core.outside_conductance.value()}, {"reference_speed", face_speed},
                         {"speed_exponent", speed_exponent}};
        },
        "liquid"_a, py::kw_only(), "heat"_a, "liquid_flow"_a, "liquid_inlet"_a, "air_inlet"_a, "face_speed"_a, "face_area"_a, "passage_bore"_a,
        "passage_length"_a, "inside_area"_a = py::none(), "inside_share"_a = 0.5, "enhancement"_a = 1.0, "fouling"_a = 0.0, "speed_exponent"_a = 0.6,
        R"(Numbers of an "air core" that gives a rating back: cpp/flarenut/heat/core_rating.hpp.

liquid as `flarenut.fluids` makes it (its `.liquid`); heat [W] given up; liquid_flow [m3/s] at liquid_inlet [K]; air_inlet [K]; face_speed [m/s];
face_area [m2]; passage_bore and passage_length [m]; inside_area [m2], or the share of the resistance that lies inside at the rating.
InputError naming the field where the rating asks for more than flows and passages can do.

>>> import flarenut as fn
>>> from flarenut._core.heat_transfer import core_of_rating
>>> oil = fn.fluid("SAE 10W-40").liquid
>>> core = core_of_rating(oil, heat=8e3, liquid_flow=20 / 6e4, liquid_inlet=383.0, air_inlet=303.0, face_speed=5.0, face_area=0.06,
...                       passage_bore=3e-3, passage_length=0.3)
>>> 100 < core["outside_conductance"] < 1000
True
)");
}

}  // namespace flarenut::bindings
