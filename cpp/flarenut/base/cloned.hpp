#pragma once
/// A value of a type that is only known by its base: copied by `clone()`, as a value should be.

#include <memory>
#include <utility>

namespace flarenut {

template <class Base>
class Cloned {
 public:
  Cloned() = default;
  Cloned(std::unique_ptr<Base> held) : held_(std::move(held)) {}
  Cloned(const Cloned& other) : held_(other.held_ ? other.held_->clone() : nullptr) {}
  Cloned(Cloned&&) noexcept = default;
  Cloned& operator=(Cloned other) noexcept {
    std::swap(held_, other.held_);
    return *this;
  }

  explicit operator bool() const { return held_ != nullptr; }
  /// As of a pointer: what is held may be changed by whoever holds this.
  Base& operator*() const { return *held_; }
  Base* operator->() const { return held_.get(); }

 private:
  std::unique_ptr<Base> held_;
};

}  // namespace flarenut
