//! Checks of Ebbstead against things outside it.
