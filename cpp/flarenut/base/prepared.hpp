#pragma once
/// A value that is made later than its owner, of what the owner is told then, and asked only after that. Asking before is a mistake of
/// ours, and is told instead of reading what is not there.

#include <optional>
#include <stdexcept>

namespace flarenut {

template <class T>
class Prepared {
 public:
  /// Makes it, or makes it anew.
  template <class... Given>
  void prepare(const Given&... given) { held_.emplace(given...); }

  const T& operator*() const {
    if (!held_) missing();
    return *held_;
  }
  const T* operator->() const { return &**this; }

  /// To be led on to what has changed since; nothing where it was never made.
  T* if_prepared() { return held_ ? &*held_ : nullptr; }

 private:
  [[noreturn]] static void missing() { throw std::logic_error("what is asked was not prepared"); }

  std::optional<T> held_;
};

}  // namespace flarenut
