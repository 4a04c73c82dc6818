//! How a figure that may rest on too little is written as JSON: the figure itself, or `{"too_little": {"of", "have", "need"}}`.

use serde::{Serialize, Serializer};

use super::{Measured, TooLittle};

#[derive(Serialize)]
#[serde(untagged)]
enum Written<'a, T> {
    There(&'a T),
    Missing { too_little: TooLittle },
}

impl<'a, T> From<&'a Measured<T>> for Written<'a, T> {
    fn from(measured: &'a Measured<T>) -> Self {
        match measured {
            Ok(figure) => Self::There(figure),
            Err(too_little) => Self::Missing { too_little: *too_little },
        }
    }
}

/// One figure.
pub(crate) fn one<T: Serialize, S: Serializer>(measured: &Measured<T>, to: S) -> Result<S::Ok, S::Error> {
    Written::from(measured).serialize(to)
}

/// A list of them.
pub(crate) fn each<T: Serialize, S: Serializer>(all: &[Measured<T>], to: S) -> Result<S::Ok, S::Error> {
    to.collect_seq(all.iter().map(Written::from))
}

/// Figures with what each is of: `[{"of", "figure"}]`.
pub(crate) fn named<N: Serialize, T: Serialize, S: Serializer>(
    all: &[(N, Measured<T>)],
    to: S,
) -> Result<S::Ok, S::Error> {
    #[derive(Serialize)]
    struct Named<'a, N, T> {
        of: &'a N,
        figure: Written<'a, T>,
    }
    to.collect_seq(all.iter().map(|(of, figure)| Named { of, figure: figure.into() }))
}
