#include <map>

#include "../catch_shim.hpp"
#include "../csv.hpp"
#include "flarenut/correlations/effectiveness.hpp"
#include "slope_check.hpp"

using flarenut::Dual;
using flarenut::InputError;
using namespace flarenut::correlations;

namespace {

constexpr Arrangement all[] = {Arrangement::counterflow, Arrangement::parallel_flow, Arrangement::cross_flow_unmixed,
                               Arrangement::cross_flow_first_mixed, Arrangement::cross_flow_second_mixed,
                               Arrangement::cross_flow_mixed, Arrangement::shell_and_tube};

/// ε of a cross-flow core with neither stream mixed, marched cell by cell: a judge that knows no formula. Unit heat
/// conductance spread over the face, each cell a small exchanger between the mean temperatures of its streams.
double marched_cross_flow(double ntu, double ratio, int cells) {
  std::vector<double> cold(cells, 0.0);  // of the larger stream, in the row that is being marched
  const double a = ntu / cells, b = ratio * ntu / cells;
  double out = 0.0;
  for (int row = 0; row < cells; ++row) {
    double hot = 1.0;  // the smaller stream enters every row
    for (int i = 0; i < cells; ++i) {
      const double heat = (hot - cold[i]) / (1.0 + 0.5 * (a + b));
      hot -= a * heat;
      cold[i] += b * heat;
    }
    out += hot / cells;
  }
  return 1.0 - out;
}

}  // namespace

TEST_CASE("effectiveness: every row of the closed forms") {
  const std::map<std::string, double (*)(double, double)> ours{
      {"counterflow", [](double n, double c) { return effectiveness(Arrangement::counterflow, n, c); }},
      {"parallel flow", [](double n, double c) { return effectiveness(Arrangement::parallel_flow, n, c); }},
      {"crossflow, both unmixed (exact)", [](double n, double c) { return effectiveness(Arrangement::cross_flow_unmixed, n, c); }},
      {"crossflow, both unmixed (usual approximation)", [](double n, double c) { return cross_flow_unmixed_approximation(n, c); }},
      {"crossflow, Cmin mixed", [](double n, double c) { return effectiveness(Arrangement::cross_flow_first_mixed, n, c); }},
      {"crossflow, Cmax mixed", [](double n, double c) { return effectiveness(Arrangement::cross_flow_second_mixed, n, c); }},
      {"one shell pass, 2,4,.. tube passes", [](double n, double c) { return effectiveness(Arrangement::shell_and_tube, n, c); }},
  };
  int rows = 0;
  for (const auto& row : csv::read("hydraulics/effectiveness_NTU.csv")) {
    INFO(row.place());
    // The rows have five decimals.
    CHECK(ours.at(row.text("arrangement"))(row.number("NTU"), row.number("Cr")) == Approx(row.number("effectiveness")).margin(5.1e-6));
    ++rows;
  }
  CHECK(rows == 163);
}

TEST_CASE("effectiveness: with a stream of one temperature every arrangement is 1 - exp(-NTU)") {
  for (const double ntu : {1e-9, 0.1, 1.0, 3.0, 20.0}) {
    for (const Arrangement arrangement : all) CHECK(effectiveness(arrangement, ntu, 0.0) == Approx(-std::expm1(-ntu)).epsilon(1e-13));
    CHECK(uniform_stream_effectiveness(ntu) == Approx(-std::expm1(-ntu)).epsilon(1e-14));
  }
}

TEST_CASE("effectiveness: ends and equal capacity rates by the textbook") {
  // Equal rates: counterflow N/(1 + N); large N: parallel 1/(1 + C), counterflow 1, 1-2 shell 2/(1 + C + √(1 + C²)).
  for (const double ntu : {0.3, 2.0, 50.0, 1e9}) CHECK(effectiveness(Arrangement::counterflow, ntu, 1.0) == Approx(ntu / (1.0 + ntu)));
  for (const double c : {0.2, 0.7, 1.0}) {
    CHECK(effectiveness(Arrangement::parallel_flow, 1e12, c) == Approx(1.0 / (1.0 + c)));
    CHECK(effectiveness(Arrangement::cross_flow_mixed, 1e12, c) == Approx(1.0 / (1.0 + c)));
    CHECK(effectiveness(Arrangement::counterflow, 1e12, c) == Approx(1.0));
    CHECK(effectiveness(Arrangement::shell_and_tube, 1e12, c) == Approx(2.0 / (1.0 + c + std::sqrt(1.0 + c * c))));
    // One stream mixed: (1 − e^−C)/C and 1 − e^(−1/C).
    CHECK(effectiveness(Arrangement::cross_flow_second_mixed, 1e12, c) == Approx(-std::expm1(-c) / c));
    CHECK(effectiveness(Arrangement::cross_flow_first_mixed, 1e12, c) == Approx(-std::expm1(-1.0 / c)));
  }
  for (const Arrangement arrangement : all) CHECK(effectiveness(arrangement, 0.0, 0.5) == 0.0);
}

TEST_CASE("effectiveness: nothing beats counterflow, parallel flow is the least up to NTU 1, all lie between 0 and 1") {
  for (double ntu = 0.01; ntu < 3e3; ntu *= 1.7) {
    for (const double c : {0.0, 0.1, 0.5, 0.9, 1.0}) {
      const double best = effectiveness(Arrangement::counterflow, ntu, c);
      for (const Arrangement arrangement : all) {
        const double e = effectiveness(arrangement, ntu, c);
        INFO("arrangement " << static_cast<int>(arrangement) << " NTU " << ntu << " C " << c);
        CHECK(e >= 0.0);
        CHECK(e <= best * (1.0 + 1e-9));
        if (ntu < 1.0) CHECK(e >= effectiveness(Arrangement::parallel_flow, ntu, c) * (1.0 - 1e-12));
      }
    }
  }
}

TEST_CASE("effectiveness: cross flow with neither stream mixed against a core marched cell by cell") {
  // Second-order cells: 400 of them leave some 1e-5 at NTU 10, more at NTU 120 and 160, where the series gives over to its limit.
  for (const double c : {0.2, 0.6, 1.0}) {
    for (const double ntu : {0.5, 3.0, 10.0}) {
      CHECK(cross_flow_unmixed_effectiveness(ntu, c) == Approx(marched_cross_flow(ntu, c, 400)).epsilon(2e-5));
    }
  }
  for (const double ntu : {90.0, 120.0, 160.0, 400.0})
    CHECK(cross_flow_unmixed_effectiveness(ntu, 1.0) == Approx(marched_cross_flow(ntu, 1.0, 1500)).epsilon(2e-4));
}

TEST_CASE("effectiveness: the cross-flow series and its limit for large cores agree where one gives over to the other") {
  for (const double b : {100.0, 125.0, 150.0}) {
    for (const double c : {1.0, 0.9, 0.7, 0.5, 0.3}) {
      CHECK(detail::unmixed_far(b / c, c) == Approx(detail::unmixed_series(b / c, b, c).value).epsilon(5e-8));
    }
  }
}

TEST_CASE("effectiveness: the usual cross-flow approximation lies within 4 % of the series") {
  double worst = 0.0;
  for (double ntu = 0.05; ntu < 10.0; ntu *= 1.2) {
    for (const double c : {0.25, 0.5, 0.75, 1.0}) {
      worst = std::max(worst, std::abs(cross_flow_unmixed_approximation(ntu, c) / cross_flow_unmixed_effectiveness(ntu, c) - 1.0));
    }
  }
  CHECK(worst < 0.04);
  CHECK(worst > 0.03);
}

TEST_CASE("effectiveness: shells in series") {
  // Counterflow units add their NTU; units of one temperature on one side multiply what they leave.
  for (const double c : {0.0, 0.4, 1.0}) {
    const double one = effectiveness(Arrangement::counterflow, 0.8, c);
    CHECK(effectiveness_in_series(3.0, one, c) == Approx(effectiveness(Arrangement::counterflow, 2.4, c)).epsilon(1e-12));
    // The textbook's n-shell formula, in its usual form.
    const double shell = effectiveness(Arrangement::shell_and_tube, 0.8, c);
    const double power = std::pow((1.0 - shell * c) / (1.0 - shell), 3.0);
    const double usual = c == 1.0 ? 3.0 * shell / (1.0 + 2.0 * shell) : (power - 1.0) / (power - c);
    CHECK(effectiveness_in_series(3.0, shell, c) == Approx(usual).epsilon(1e-12));
  }
  CHECK(effectiveness_in_series(2.0, 1.0, 0.0) == Approx(1.0));
}

TEST_CASE("effectiveness: slopes against differences, through equal rates, a still stream and both ends of size") {
  for (const Arrangement arrangement : all) {
    for (const double ntu : {0.01, 0.4, 1.0, 4.0, 30.0, 120.0, 300.0}) {
      for (const double c : {0.02, 0.3, 0.6, 0.95}) {
        INFO("arrangement " << static_cast<int>(arrangement) << " NTU " << ntu << " C " << c);
        CHECK(slope_check::error([&](auto n) { return effectiveness(arrangement, n, c); }, ntu) < 2e-5);
        CHECK(slope_check::error([&](auto r) { return effectiveness(arrangement, ntu, r); }, c) < 2e-5);
        CHECK(slope_check::error([&](auto n) { return effectiveness_in_series(2.0, effectiveness(arrangement, n, c),
                                                                             decltype(n)(c)); }, ntu) < 2e-4);
      }
    }
    for (const double end : {0.0, 1.0, 1e12}) {
      for (const double c : {0.0, 1.0}) {
        CHECK(slope_check::finite_at([&](auto n) { return effectiveness(arrangement, n, c); }, end));
        CHECK(slope_check::finite_at([&](auto r) { return effectiveness(arrangement, end, r); }, c));
      }
    }
  }
}

TEST_CASE("effectiveness: the inverse gives the NTU back, with its slopes, and says what cannot be reached") {
  for (const Arrangement arrangement : all) {
    for (const double c : {0.0, 0.3, 1.0}) {
      for (const double ntu : {0.0, 1e-3, 0.4, 1.3, 2.0}) {
        if (arrangement == Arrangement::cross_flow_mixed && ntu > 1.5 && c > 0.9) continue;  // near its summit
        const double e = effectiveness(arrangement, ntu, c);
        INFO("arrangement " << static_cast<int>(arrangement) << " NTU " << ntu << " C " << c);
        CHECK(ntu_from_effectiveness(arrangement, e, c) == Approx(ntu).epsilon(1e-9));
        const auto back = ntu_from_effectiveness(arrangement, Dual<2>(e, 0), Dual<2>(c, 1));
        const auto forth = effectiveness(arrangement, Dual<2>(ntu, 0), Dual<2>(c, 1));
        CHECK(back.slope[0] * forth.slope[0] == Approx(1.0).epsilon(1e-9));
        CHECK(back.slope[1] == Approx(-forth.slope[1] / forth.slope[0]).margin(1e-9));
      }
    }
  }
  // Near what an arrangement can do at most.
  for (const Arrangement arrangement : all) {
    for (const double c : {0.0, 0.3, 0.8}) {
      for (const double ntu : {5.0, 12.0, 20.0}) {
        const Dual<1> forth = effectiveness(arrangement, Dual<1>(ntu, 0), c);
        if (forth.slope[0] < 1e-12) continue;  // past its summit, or flat to the last digit
        INFO("arrangement " << static_cast<int>(arrangement) << " NTU " << ntu << " C " << c);
        const double back = ntu_from_effectiveness(arrangement, forth.value, c);
        CHECK(effectiveness(arrangement, back, c) == Approx(forth.value).epsilon(2e-14));
      }
    }
  }
  // Parallel flow with equal rates ends at one half.
  CHECK_THROWS_AS(ntu_from_effectiveness(Arrangement::parallel_flow, 0.55, 1.0), InputError);
  try {
    ntu_from_effectiveness(Arrangement::parallel_flow, 0.55, 1.0);
  } catch (const InputError& error) {
    CHECK(error.place() == "exchanger");
    CHECK(error.field() == "effectiveness");
    CHECK(error.trouble().find("0.55 cannot be reached") == 0);
  }
  CHECK_THROWS_AS(ntu_from_effectiveness(Arrangement::counterflow, 1.2, 0.5), InputError);
  CHECK_THROWS_AS(ntu_from_effectiveness(Arrangement::cross_flow_mixed, 0.6, 1.0), InputError);
  CHECK_THROWS_AS(ntu_from_effectiveness(Arrangement::counterflow, -0.1, 0.5), InputError);
}

TEST_CASE("effectiveness: closed inverses of the textbook") {
  for (const double c : {0.25, 0.75}) {
    const double e = 0.45, root = std::sqrt(1.0 + c * c), f = (2.0 / e - (1.0 + c)) / root;
    CHECK(ntu_from_effectiveness(Arrangement::counterflow, e, c) == Approx(std::log((e - 1.0) / (e * c - 1.0)) / (c - 1.0)));
    CHECK(ntu_from_effectiveness(Arrangement::parallel_flow, e, c) == Approx(-std::log(1.0 - e * (1.0 + c)) / (1.0 + c)));
    CHECK(ntu_from_effectiveness(Arrangement::cross_flow_second_mixed, e, c) == Approx(-std::log(1.0 + std::log(1.0 - e * c) / c)));
    CHECK(ntu_from_effectiveness(Arrangement::cross_flow_first_mixed, e, c) == Approx(-std::log(c * std::log(1.0 - e) + 1.0) / c));
    CHECK(ntu_from_effectiveness(Arrangement::shell_and_tube, e, c) == Approx(-std::log((f - 1.0) / (f + 1.0)) / root));
  }
}

TEST_CASE("effectiveness: between both forms of the cross flow each has the weight of the blend, by hand at its middle") {
  for (const double c : {1.0, 0.6}) {
    const auto both = [&](double b) {
      return std::pair{detail::unmixed_series(b / c, b, c).value, detail::unmixed_far(b / c, c)};
    };
    const auto [near, far] = both(125.0);  // half way from 100 to 150
    REQUIRE(std::abs(far - near) > 1e-10);
    CHECK((cross_flow_unmixed_effectiveness(125.0 / c, c) - near) / (far - near) == Approx(0.5).epsilon(1e-5));
    const auto [quarter_near, quarter_far] = both(112.5);  // 10/64 - 15/256 + 6/1024
    CHECK((cross_flow_unmixed_effectiveness(112.5 / c, c) - quarter_near) / (quarter_far - quarter_near) == Approx(0.103515625).epsilon(1e-4));
    CHECK(cross_flow_unmixed_effectiveness(99.0 / c, c) == Approx(both(99.0).first).epsilon(1e-15));
    CHECK(cross_flow_unmixed_effectiveness(151.0 / c, c) == Approx(both(151.0).second).epsilon(1e-15));
  }
}

TEST_CASE("effectiveness: the inverse keeps its digits in a very small exchanger") {
  // Counterflow: ln((1 - e)/(1 - e c))/(c - 1), through log1p.
  for (const double e : {1e-9, 1e-8, 1e-5})
    CHECK(ntu_from_effectiveness(Arrangement::counterflow, e, 0.5) == Approx((std::log1p(-e) - std::log1p(-0.5 * e)) / -0.5).epsilon(1e-12));
}
