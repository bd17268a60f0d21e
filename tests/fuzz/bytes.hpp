#pragma once
/// Bytes of a fuzzer read as small choices and numbers, from the front; when they are used up everything is zero. The same bytes always
/// read the same, so a file kept from one run replays in any other.

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <cstring>
#include <limits>
#include <array>
#include <algorithm>

namespace fuzz {

class Bytes {
 public:
  Bytes(const std::uint8_t* data, std::size_t size) : data_(data), left_(size) {}

  bool empty() const { return left_ == 0; }
  std::size_t left() const { return left_; }

  std::uint8_t byte() {
    if (left_ == 0) return 0;
    --left_;
    return *data_++;
  }
  /// 0 to count - 1.
  int below(int count) { return count < 2 ? 0 : byte() % count; }
  bool chance(int in256) { return byte() < in256; }

  /// A whole number that is mostly within `count`, and now and then is not.
  int index(int count) {
    const int choice = byte();
    if (choice < 250) return count < 1 ? 0 : choice % count;
    constexpr std::array wild{-1, std::numeric_limits<int>::min(), std::numeric_limits<int>::max(), 1 << 16};
    return choice == 254 ? count : wild[static_cast<std::size_t>(choice) % wild.size()];
  }

  /// Any double there is.
  double raw() {
    std::array<std::uint8_t, 8> bits{};
    for (auto& one : bits) one = byte();
    double value = 0.0;
    std::memcpy(&value, bits.data(), sizeof value);
    return value;
  }

  /// A number that is mostly between two limits, on a scale of ratios where both are positive, and now and then an odd one.
  double between(double least, double most) {
    const int choice = byte();
    if (choice == 255) return raw();
    if (choice >= 246) return odd(choice - 246);
    if (choice == 245) return least;
    if (choice == 244) return most;
    const double share = (byte() * 256.0 + byte()) / 65535.0;
    if (least > 0.0 && most / least > 100.0) return std::exp(std::log(least) + share * (std::log(most) - std::log(least)));
    return least + share * (most - least);
  }

 private:
  static double odd(int which) {
    using Limits = std::numeric_limits<double>;
    const std::array all{0.0, -0.0, Limits::quiet_NaN(), Limits::infinity(), -Limits::infinity(), Limits::denorm_min(), Limits::max(),
                         Limits::lowest(), 1e-300};
    return all[static_cast<std::size_t>(which) % all.size()];
  }

  const std::uint8_t* data_;
  std::size_t left_;
};

}  // namespace fuzz
