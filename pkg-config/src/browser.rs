//! A browser and its driver.
