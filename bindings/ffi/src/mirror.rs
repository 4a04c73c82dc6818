//! Records and enums that mirror the core's, with conversions that name every variant and every field: what is added to
//! the core does not compile here until somebody decided what shells get of it.

/// An enum that mirrors one of the core's without data, converted both ways.
macro_rules! mirrored_names {
    ($(#[$about:meta])* $name:ident = $core:path { $($(#[$says:meta])* $here:ident $(= $there:ident)?),+ $(,)? }) => {
        $(#[$about])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, uniffi::Enum, serde::Serialize)]
        pub enum $name { $($(#[$says])* $here),+ }

        impl From<$core> for $name {
            fn from(core: $core) -> Self {
                use $core as Core;
                match core { $(mirrored_names!(@name Core $here $($there)?) => Self::$here),+ }
            }
        }

        impl From<$name> for $core {
            fn from(here: $name) -> Self {
                use $core as Core;
                match here { $($name::$here => mirrored_names!(@name Core $here $($there)?)),+ }
            }
        }
    };
    (@name $core:ident $here:ident) => { $core::$here };
    (@name $core:ident $here:ident $there:ident) => { $core::$there };
}

/// An enum that mirrors one of the core's codes with numbers, converted from the core.
macro_rules! mirrored_codes {
    ($(#[$about:meta])* $name:ident = $core:path {
        $($(#[$says:meta])* $variant:ident $({ $($(#[$is:meta])* $field:ident: $type:ty),+ $(,)? })?),+ $(,)?
    }) => {
        $(#[$about])*
        #[derive(Clone, Copy, Debug, PartialEq, uniffi::Enum, serde::Serialize)]
        pub enum $name { $($(#[$says])* $variant $({ $($(#[$is])* $field: $type),+ })?),+ }

        impl From<$core> for $name {
            fn from(core: $core) -> Self {
                use $core as Core;
                match core {
                    $(Core::$variant $({ $($field),+ })? => Self::$variant $({ $($field: $field.into()),+ })?),+
                }
            }
        }
    };
}

/// A record that mirrors one of the core's field by field, converted from the core.
macro_rules! mirrored_record {
    ($(#[$about:meta])* $name:ident = $core:path { $($(#[$is:meta])* $field:ident: $type:ty),+ $(,)? }) => {
        $(#[$about])*
        #[derive(Clone, Debug, PartialEq, uniffi::Record, serde::Serialize)]
        pub struct $name { $($(#[$is])* pub $field: $type),+ }

        impl From<$core> for $name {
            fn from(core: $core) -> Self {
                use $core as Core;
                let Core { $($field),+ } = core;
                Self { $($field: $field.into()),+ }
            }
        }
    };
}

/// As [`mirrored_record`], converted both ways: what a shell hands back.
macro_rules! mirrored_both_ways {
    ($(#[$about:meta])* $name:ident = $core:path { $($(#[$is:meta])* $field:ident: $type:ty),+ $(,)? }) => {
        mirrored_record! { $(#[$about])* $name = $core { $($(#[$is])* $field: $type),+ } }

        impl From<$name> for $core {
            fn from(here: $name) -> Self {
                use $core as Core;
                let $name { $($field),+ } = here;
                Core { $($field: $field.into()),+ }
            }
        }
    };
}

pub(crate) use {mirrored_both_ways, mirrored_codes, mirrored_names, mirrored_record};
