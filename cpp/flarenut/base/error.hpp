#pragma once
/// Troubles come three ways and leave three ways: what the user got wrong throws `InputError`; what the
/// numbers would not do is a status in a result; our own bug is an assertion. The core never prints or exits.

#include <cassert>
#include <stdexcept>
#include <string>
#include <string_view>

namespace flarenut {

/// Something the user can mend: which part or junction, which value, what the limit is, and the remedy.
class InputError : public std::invalid_argument {
 public:
  InputError(std::string_view place, std::string_view field, std::string_view trouble)
      : std::invalid_argument(std::string(place) + (field.empty() ? "" : ": " + std::string(field)) + ": " +
                              std::string(trouble)),
        place_(place), field_(field), trouble_(trouble) {}

  const std::string& place() const { return place_; }
  const std::string& field() const { return field_; }
  const std::string& trouble() const { return trouble_; }

 private:
  std::string place_, field_, trouble_;
};

}  // namespace flarenut
