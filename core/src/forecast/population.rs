//! The population's values, fitted; see `core/docs/population.md` for data, method and how well they carried over.

/// Weights of [`super::correction::features`] at 15, 30, 45 and 60 minutes, in mg/dL.
pub const CORRECTION: [[f64; 9]; 4] = [
    [-0.42, 2.75, 0.70, -1.35, -5.14, 1.03, -0.55, 6.59, -0.04],
    [-0.68, 6.94, -1.63, -2.03, -12.24, 3.12, -0.32, 11.38, -0.93],
    [-0.72, 10.63, -7.78, -2.89, -18.39, 5.00, 0.23, 17.38, -3.41],
    [-0.67, 13.62, -14.65, -4.40, -23.96, 5.53, 0.96, 24.71, -6.27],
];
/// Mean squared error over the model's variance at those horizons, after the correction.
pub const SPREAD: [f64; 4] = [0.89, 0.94, 0.99, 1.0];
/// Regressions of the chance of a reading below the low line, for 15, 30 and 60 minutes: constant, log-odds of the path's
/// chance, logarithm of the distance plus 4 mg/dL, rate.
pub const LOW: [[f64; 4]; 3] =
    [[1.980, 0.493, -1.459, -2.006], [1.962, 0.460, -1.343, -2.297], [1.360, 0.575, -0.891, -2.147]];
/// The same for the floor line.
pub const FLOOR: [[f64; 4]; 3] =
    [[2.185, 0.427, -1.823, -2.170], [2.157, 0.347, -1.790, -2.834], [1.693, 0.486, -1.309, -2.307]];
