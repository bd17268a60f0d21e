#pragma once
/// One include for either major version of Catch2: v2 is a single header, v3 a library.
#if __has_include(<catch2/catch_all.hpp>)
#include <catch2/catch_all.hpp>
using Catch::Approx;
#else
#include <catch2/catch.hpp>
#endif
