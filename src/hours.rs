//! Rule books and driver clocks: pure functions, so that any answer can be checked with a log in hand.

mod rule_book;

pub use rule_book::RuleBook;
