//! Runs core over a trace, as somebody would have lived it: each line knows the readings up to its own time.

/// What core said at one reading.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Line {
    /// Expected blood glucose, in mg/dL.
    pub blood_mg_dl: f64,
    /// Its standard deviation, in mg/dL.
    pub blood_sd_mg_dl: f64,
    /// The reading expected in 30 minutes, in mg/dL.
    pub mean_30_mg_dl: f64,
    /// The chance of a reading below 70 mg/dL within 30 minutes.
    pub chance_low_30: f64,
    /// Whether the verdict is to treat; where it is to check, whether it is to treat without a meter.
    pub treat: bool,
    /// The chance that the sensor is pressed or unsettled.
    pub artifact: f64,
}
