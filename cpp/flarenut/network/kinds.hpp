#pragma once
/// The list of part kinds. A new part adds its include and one line in `kinds.cpp`, nothing else.

#include <memory>
#include <string_view>
#include <vector>

#include "flarenut/network/element.hpp"

namespace flarenut::network {

/// Every kind, in the order of the list.
std::vector<std::string_view> kind_names();

/// A part of that kind with its preset numbers, not yet prepared. Throws InputError for an unknown kind.
std::unique_ptr<Element> make_element(std::string_view kind);

}  // namespace flarenut::network
