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
