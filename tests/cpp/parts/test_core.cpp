#include "flarenut/parts/core.hpp"

#include "../catch_shim.hpp"
#include "valve_checks.hpp"

using namespace flarenut;
using namespace flarenut::parts;
using namespace valve_checks;
namespace c = flarenut::correlations;

namespace {

constexpr double pi = 3.14159265358979323846;

double drop_of(const c::CoreLoss& loss, double density, double viscosity, double volume_flow) {
  CoreSpec<> spec;
  spec.viscous = ViscousCoefficient<>::from_value(loss.viscous);
  spec.inertial = InertialCoefficient<>::from_value(loss.inertial);
  return Core<>(spec, liquid(density, viscosity)).drop(flowing(density * volume_flow)).value();
}

}  // namespace

TEST_CASE("core: by hand, viscous and inertial part") {
  // 2e9 · 0.012 · 3e-4 = 7200 Pa and 3e8 · 850 · 9e-8 = 22950 Pa.
  CHECK(drop_of({2e9, 3e8}, 850.0, 0.012, 3e-4) == Approx(30150.0).epsilon(1e-12));
  CHECK(drop_of({2e9, 3e8}, 850.0, 0.012, -3e-4) == Approx(-30150.0).epsilon(1e-12));
}

TEST_CASE("core: made of two points it passes both, whether the flow differs or the liquid") {
  const c::CorePoint slow{12e3, 1.5e-4, 0.012, 850.0}, fast{35e3, 3.5e-4, 0.012, 850.0}, cold{90e3, 1.5e-4, 0.11, 880.0};
  for (const auto& other : {fast, cold}) {
    const auto loss = c::core_of_points(slow, other);
    for (const auto& point : {slow, other})
      CHECK(drop_of(loss, point.density, point.viscosity, point.flow) == Approx(point.drop).epsilon(1e-9));
  }
}

TEST_CASE("core: two points that no such sum passes show it by a coefficient below zero or none at all") {
  const c::CorePoint point{12e3, 1.5e-4, 0.012, 850.0};
  CHECK(c::core_of_points(point, {60e3, 3e-4, 0.012, 850.0}).viscous < 0.0);   // five times the drop at twice the flow
  CHECK(c::core_of_points(point, {22e3, 3e-4, 0.012, 850.0}).inertial < 0.0);  // less than twice
  CHECK_FALSE(std::isfinite(c::core_of_points(point, point).viscous));
}

TEST_CASE("core: made of one point it keeps the share it was told") {
  const auto loss = c::core_of_point({40e3, 3e-4, 0.012, 850.0}, 0.6);
  CHECK(loss.viscous * 0.012 * 3e-4 == Approx(24e3));
  CHECK(drop_of(loss, 850.0, 0.012, 3e-4) == Approx(40e3));
  // Ten times as thick at the same flow: ten times the one part, the same other.
  CHECK(drop_of(loss, 850.0, 0.12, 3e-4) == Approx(256e3));
}

TEST_CASE("core: of laminar passages it is Hagen-Poiseuille in each, and the head of velocity at their ends") {
  const double passages = 60.0, bore = 2.5e-3, length = 0.25, flow = 3e-4, viscosity = 0.012, density = 850.0;
  const double speed = flow / passages / (pi / 4.0 * bore * bore);
  REQUIRE(density * speed * bore / viscosity < 2000.0);
  const double by_hand = 32.0 * viscosity * length * speed / (bore * bore) + 1.5 * 0.5 * density * speed * speed;
  CHECK(drop_of(c::core_of_passages(passages, bore, length, 1.5), density, viscosity, flow) == Approx(by_hand).epsilon(1e-9));
}

TEST_CASE("core: of turbulent passages it meets the friction law of a smooth bore at the Reynolds number told") {
  // Coolant in a radiator's tubes. Blasius 1913, f = 0.3164 / Re^(1/4), stands for the law within 3 % at Reynolds 8000.
  const double passages = 40.0, bore = 5e-3, length = 0.5, viscosity = 7e-4, density = 1030.0, reynolds = 8000.0;
  const double speed = reynolds * viscosity / (density * bore);
  const double flow = passages * pi / 4.0 * bore * bore * speed;
  const double head = 0.5 * density * speed * speed;
  const double by_hand = (0.3164 / std::pow(reynolds, 0.25) * length / bore + 1.5) * head;
  const auto loss = c::core_of_passages(passages, bore, length, 1.5, reynolds);
  CHECK(drop_of(loss, density, viscosity, flow) == Approx(by_hand).epsilon(0.03));
  // Half and double that flow stay near it, which one loss coefficient for all flows would not.
  for (double factor : {0.5, 2.0}) {
    const double v = factor * speed;
    const double there = (0.3164 / std::pow(factor * reynolds, 0.25) * length / bore + 1.5) * 0.5 * density * v * v;
    CHECK(drop_of(loss, density, viscosity, factor * flow) == Approx(there).epsilon(0.15));
  }
}

TEST_CASE("core: its connections are told to whoever reads a gauge there") {
  CoreSpec<> spec;
  spec.viscous = ViscousCoefficient<>::from_value(2e9);
  spec.inlet_bore = Length<>::from_value(12e-3);
  const auto bores = Core<>(spec, liquid(850.0, 0.012)).bores();
  CHECK(bores[0].value() == 12e-3);
  CHECK(bores[1].value() == 0.0);
}
