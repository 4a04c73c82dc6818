//! The population's values, fitted; see `core/docs/population.md` for data, method and how well they carried over.

/// Weights of [`super::correction::features`] at 15, 30, 45 and 60 minutes, in mg/dL.
pub const CORRECTION: [[f64; 9]; 4] = [
    [-0.42, 2.74, 0.69, -1.35, -5.13, 1.04, -0.55, 6.61, -0.03],
    [-0.68, 6.93, -1.63, -2.04, -12.23, 3.13, -0.32, 11.42, -0.91],
    [-0.72, 10.62, -7.78, -2.91, -18.37, 5.02, 0.23, 17.42, -3.39],
    [-0.68, 13.61, -14.65, -4.41, -23.94, 5.55, 0.97, 24.74, -6.24],
];
/// Mean squared error over the model's variance at those horizons, after the correction.
pub const SPREAD: [f64; 4] = [0.89, 0.94, 0.99, 1.0];
/// Regressions of the chance of a reading below the low line, for 15, 30 and 60 minutes: constant, log-odds of the path's
/// chance, logarithm of the distance plus 4 mg/dL, rate.
pub const LOW: [[f64; 4]; 3] =
    [[2.001, 0.491, -1.467, -1.996], [1.964, 0.459, -1.344, -2.297], [1.360, 0.576, -0.891, -2.144]];
/// The same for the floor line.
pub const FLOOR: [[f64; 4]; 3] =
    [[2.069, 0.401, -1.751, -2.103], [1.952, 0.388, -1.643, -2.543], [1.566, 0.508, -1.243, -2.175]];
