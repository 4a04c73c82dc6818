//! The population's values, fitted; see `core/docs/population.md` for data, method and how well they carried over.

/// Weights of [`super::correction::features`] at 15, 30, 45 and 60 minutes, in mg/dL.
pub const CORRECTION: [[f64; 13]; 4] = [
    [-0.76, -0.41, 21.97, 2.79, -3.63, 0.63, 1.55, 10.06, 3.22, -0.14, -1.43, 0.00, 2.35],
    [-1.15, -0.78, 17.23, 6.84, -2.38, 2.83, 4.39, 10.81, 4.54, 0.00, -4.02, 0.00, 4.51],
    [-0.98, -1.58, 12.15, 8.79, -2.01, 4.55, 7.29, 9.90, 4.38, 0.00, -5.18, 0.00, 4.83],
    [-0.50, -2.70, 9.05, 8.91, -2.55, 5.29, 9.83, 9.12, 3.47, 0.00, -5.21, 0.00, 3.95],
];
/// Mean squared error over the model's variance at those horizons, after the correction.
pub const SPREAD: [f64; 4] = [1.08, 1.28, 1.46, 1.58];
/// Weights of [`super::shape::traits`] for the factor of deviations below the expected path.
pub const DOWN: [f64; 7] = [-0.333, 0.046, 0.084, 0.174, 0.299, 0.216, 0.004];
/// The same above it.
pub const UP: [f64; 7] = [-0.048, -0.321, 0.219, 0.116, 0.296, 0.024, 0.007];
/// Weights of [`super::lowest::calibrated`] at 15, 30 and 60 minutes: constant, log-odds of the paths' chance, logarithm of the
/// distance plus 4 mg/dL, rate of fall.
pub const PASSAGE: [[f64; 4]; 3] =
    [[2.793, 0.455, -1.389, -0.442], [2.277, 0.517, -0.994, -0.256], [1.498, 0.708, -0.543, -0.007]];
