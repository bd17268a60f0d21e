#include <set>

#include "../heat/heat_checks.hpp"

using namespace heat_checks;

TEST_CASE("heat kinds: every kind says what its numbers are, and gives back each that was set") {
  const auto kinds = network::heat_kind_names();
  CHECK(kinds == std::vector<std::string_view>{"line wall", "air core", "heat table", "liquid exchanger"});
  for (const auto kind : kinds) {
    const auto element = network::make_heat_element(kind);
    const auto info = element->info();
    INFO(kind);
    CHECK(info.kind == kind);
    REQUIRE(static_cast<int>(info.fields.size()) == element->field_count());
    std::set<std::string_view> names;
    for (std::size_t i = 0; i < info.fields.size(); ++i) {
      const auto& field = info.fields[i];
      INFO(field.name);
      CHECK(names.insert(field.name).second);
      CHECK_FALSE(field.meaning.empty());
      CHECK(field.least < field.most);
      CHECK(element->field(static_cast<int>(i)) == field.preset);
    }
    for (int i = 0; i < element->field_count(); ++i) element->set_field(i, 0.25 + i);
    const auto copy = element->clone();
    for (int i = 0; i < element->field_count(); ++i) {
      element->set_field(i, -1.0);
      CHECK(copy->field(i) == 0.25 + i);
    }
  }
}

TEST_CASE("heat kinds: what is beyond a number's range is refused by the name it was given") {
  for (const auto kind : network::heat_kind_names()) {
    const auto element = network::make_heat_element(kind);
    element->set_field(0, -7.0);
    INFO(kind);
    CHECK_THAT(complaint([&] { element->validate("the oil cooler"); }),
               Catch::Contains("the oil cooler") && Catch::Contains(std::string(element->info().fields[0].name)));
  }
}

TEST_CASE("heat kinds: a line prepared over and over says what a new one says, whatever changed since") {
  const auto stream = stream_of(oil, 0.05, 380.0, 378.0);
  const auto liquid = stream.liquid.as<Dual<1>>();
  fluids::HeatState<Dual<1>> heat;
  heat.specific_heat = SpecificHeat<Dual<1>>::from_value(Dual<1>(stream.heat.specific_heat.value()));
  heat.conductivity = ThermalConductivity<Dual<1>>::from_value(Dual<1>(stream.heat.conductivity.value()));
  const network::StreamPoint point{0.05, 380.0, true, &liquid, &heat};
  const auto said = [&](const network::HeatElement& element) {
    network::HeatLinearisation out;
    element.linearise(&point, out);
    return out.heat.value;
  };
  const auto used = network::make_heat_element("line wall");
  const auto set_all = [](network::HeatElement& element, double wind) {
    const auto fields = element.info().fields;
    for (std::size_t i = 0; i < fields.size(); ++i)
      if (fields[i].name == "air_speed") element.set_field(static_cast<int>(i), wind);
    const auto borrowed = element.borrowed();
    for (std::size_t i = 0; i < borrowed.size(); ++i) element.lend(static_cast<int>(i), borrowed[i] == "bore" ? 0.0127 : 2.0);
  };
  double last = 0.0;
  for (const auto& [air, pascal, wind] : {std::tuple{30.0, 101325.0, 0.0}, {-15.0, 101325.0, 0.0}, {-15.0, 80000.0, 0.0}, {-15.0, 80000.0, 6.0}, {20.0, 80000.0, 6.0}}) {
    set_all(*used, wind);
    used->prepare(around(air, pascal));
    const auto made = network::make_heat_element("line wall");
    set_all(*made, wind);
    made->prepare(around(air, pascal));
    INFO(air << " C, " << pascal << " Pa, " << wind << " m/s");
    CHECK(said(*used) == said(*made));
    CHECK(said(*used) != last);
    last = said(*used);
  }
}
