#pragma once
/// What a batch is asked, and where it writes. See `batch.hpp`.

#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

namespace flarenut::analysis {

/// One number read off every answer.
struct BatchReading {
  enum class What {
    total,           ///< of a junction [Pa abs]
    end_total,       ///< these: at a port of a part, as `End`
    end_static,
    end_flow,
    velocity,
    reynolds,
    vapour_margin,
    flow,            ///< internal flow of a part [kg/s]; `port` says which
    suction_margin,  ///< these: of a pump, as `Suction`
    suction_gauge,
    npsh,
    regime,          ///< of a part, as a number of `Regime`
    density,         ///< these: of the liquid in a part
    viscosity,
    vapour_pressure,
    least_margin,    ///< least static pressure above vapour pressure in the circuit [Pa], where it is not sprayed into gas; below 0
                     ///< it boils
    ambient,         ///< [Pa abs]
    temperature,     ///< of a junction [K]
    leaving,         ///< of what passes a port of a part [K]
    mean_temperature,  ///< these: of the stream in a part [K]; heat into it [W]; power of a pump into the liquid [W]
    heat,
    power,
    energy_closure,  ///< worst imbalance of a junction over the heat moved; these are 0 where temperatures are given
    heat_moved,
    number,          ///< of the plan, as it stood
  };
  What what = What::total;
  int index = 0;  ///< of the junction, part or number
  int port = 0;
};

/// What became of a row.
enum class RowStatus : std::uint8_t { solved = 0, not_converged = 1, refused = 2, not_reached = 3 };

/// Rows in, readings out. The memory belongs to the caller and must outlive the batch.
struct BatchTask {
  std::vector<int> numbers;            ///< which numbers of the plan vary
  const double* values = nullptr;      ///< [count × numbers], SI
  std::size_t count = 0;
  std::vector<BatchReading> readings;
  double* results = nullptr;           ///< [count × readings]; NaN where there is no answer
  RowStatus* status = nullptr;         ///< [count]
  std::int32_t* iterations = nullptr;  ///< [count]
  double* residual = nullptr;          ///< [count]; worst scaled residual, or what a forecast bounds it by; NaN where there is no answer
  std::int32_t* reason = nullptr;      ///< [count]; place in `reasons()`, −1 when solved
};

struct BatchOptions {
  int threads = 0;         ///< 0: as many as the machine has
  std::size_t block = 64;  ///< rows taken together, in a chain of warm starts where they make one
  std::string kernel{};    ///< empty: the best; else one of `Batch::kernel_names()`
};

}  // namespace flarenut::analysis
