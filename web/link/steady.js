/**
 * The time of this page, ms since the epoch: the phone's clock when the page began,
 * and from there what really went by. A phone's clock is set now and then, by its
 * network or by hand, and a page that went by it would hear nothing for an hour, or
 * everything an hour late. Over a reload it does not fall behind what an earlier page
 * wrote.
 */
export class Steady {
  /** @param {{wall: () => number, passed: () => number}} clocks wall: what the phone shows; passed: runs evenly, from anywhere */
  constructor({ wall, passed }) {
    this.wall = wall;
    this.passed = passed;
    this.zero = wall() - passed();
  }

  now() {
    return Math.round(this.passed() + this.zero);
  }

  /**
   * The page was hidden and is back. A phone that sleeps stops the even clock on some
   * systems (from memory), so what the phone's own has gained counts; what it has lost
   * was set.
   */
  woke() {
    this.zero = Math.max(this.zero, this.wall() - this.passed());
  }

  /** @param {number} t of an earlier page's last word */
  notBefore(t) {
    this.zero = Math.max(this.zero, t - this.passed());
  }
}
