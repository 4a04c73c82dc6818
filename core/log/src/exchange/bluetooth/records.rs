//! Record Access Control Point, 0x2A52: asking a sensor or meter for what it has kept.

use super::cursor::Cursor;
use super::time::DateTime;
use super::{Characteristic, DecodeError, MessageFault};

/// The service whose records are meant; it decides what positions are.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Service {
    /// 0x181F.
    ContinuousGlucoseMonitoring,
    /// 0x1808.
    Glucose,
}

impl Service {
    /// The 16 bits by which the Bluetooth SIG numbers it.
    #[must_use]
    pub const fn uuid(self) -> u16 {
        match self {
            Self::ContinuousGlucoseMonitoring => 0x181F,
            Self::Glucose => 0x1808,
        }
    }
}

/// Where a record stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Position {
    /// A sensor's: minutes since the session's start.
    Minutes(u16),
    /// A meter's: the measurement's number.
    Sequence(u16),
    /// A meter's: the time the wearer's clock showed.
    Time(DateTime),
}

impl Position {
    /// The filter's code: 1 for a sensor's minutes and a meter's numbers, 2 for a meter's times.
    const fn filter(self) -> u8 {
        match self {
            Self::Minutes(_) | Self::Sequence(_) => 1,
            Self::Time(_) => 2,
        }
    }

    fn read(octets: &mut Cursor<'_>, service: Service, filter: u8, at: usize) -> Result<Self, DecodeError> {
        match (service, filter) {
            (Service::ContinuousGlucoseMonitoring, 1) => octets.u16().map(Self::Minutes),
            (Service::Glucose, 1) => octets.u16().map(Self::Sequence),
            (Service::Glucose, 2) => DateTime::read(octets).map(Self::Time),
            (_, given) => Err(octets.fault(at, MessageFault::NoSuchCode { given })),
        }
    }

    fn octets(self) -> Vec<u8> {
        match self {
            Self::Minutes(number) | Self::Sequence(number) => number.to_le_bytes().to_vec(),
            Self::Time(time) => time.octets().to_vec(),
        }
    }
}

/// Which records are meant.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Selection {
    /// All.
    All,
    /// Up to and with a position.
    UpTo(Position),
    /// From a position on, with it.
    From(Position),
    /// From the first position to the second, both with.
    Within(Position, Position),
    /// The oldest.
    First,
    /// The newest.
    Last,
}

impl Selection {
    fn read(octets: &mut Cursor<'_>, service: Service) -> Result<Self, DecodeError> {
        let at = octets.at();
        let operator = octets.u8()?;
        let position = |octets: &mut Cursor<'_>, filter: Option<u8>| {
            let at = octets.at();
            let filter = filter.map_or_else(|| octets.u8(), Ok)?;
            Ok((Position::read(octets, service, filter, at)?, filter))
        };
        match operator {
            1 => Ok(Self::All),
            2 => position(octets, None).map(|(position, _)| Self::UpTo(position)),
            3 => position(octets, None).map(|(position, _)| Self::From(position)),
            4 => {
                // One filter code stands in front of both ends.
                let (first, filter) = position(octets, None)?;
                let (last, _) = position(octets, Some(filter))?;
                Ok(Self::Within(first, last))
            }
            5 => Ok(Self::First),
            6 => Ok(Self::Last),
            given => Err(octets.fault(at, MessageFault::NoSuchCode { given })),
        }
    }

    fn octets(self) -> Vec<u8> {
        let with = |operator, position: Position| [vec![operator, position.filter()], position.octets()].concat();
        match self {
            Self::All => vec![1],
            Self::UpTo(position) => with(2, position),
            Self::From(position) => with(3, position),
            Self::Within(first, last) => [with(4, first), last.octets()].concat(),
            Self::First => vec![5],
            Self::Last => vec![6],
        }
    }
}

codes! {
    /// How a request ended.
    Outcome {
        /// It was done.
        Success = 1,
        /// The device does not know the request.
        NotSupported = 2,
        /// The selection cannot be.
        InvalidOperator = 3,
        /// The device does not know the selection.
        OperatorNotSupported = 4,
        /// The position cannot be.
        InvalidOperand = 5,
        /// There are no such records.
        NoRecords = 6,
        /// It could not be aborted.
        AbortUnsuccessful = 7,
        /// It could not be finished.
        NotCompleted = 8,
        /// The device does not know the position.
        OperandNotSupported = 9,
    }
}

/// A request for records, or the answer.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum RecordAccess {
    /// Send records: 0x01.
    Report(Selection),
    /// Delete records: 0x02. Ebbstead never asks for it; the code is read so that a trace of it can be named.
    Delete(Selection),
    /// Stop sending: 0x03.
    Abort,
    /// Say how many records there are: 0x04.
    Count(Selection),
    /// The answer: 0x05.
    CountIs(u16),
    /// How a request ended: 0x06.
    Response {
        /// The request's code.
        to: u8,
        /// How it ended.
        outcome: Outcome,
    },
}

impl RecordAccess {
    /// The code of [`RecordAccess::Report`], by which an answer names it.
    pub(super) const REPORT: u8 = 1;

    /// Reads a request or an answer.
    ///
    /// # Errors
    /// [`DecodeError`].
    pub fn decode(octets: &[u8], service: Service) -> Result<Self, DecodeError> {
        let mut octets = Cursor::of(Characteristic::RecordAccessControlPoint, octets);
        let code = octets.u8()?;
        let null = |octets: &mut Cursor<'_>| match octets.u8()? {
            0 => Ok(()),
            given => Err(octets.fault(1, MessageFault::NoSuchCode { given })),
        };
        let access = match code {
            Self::REPORT => Self::Report(Selection::read(&mut octets, service)?),
            2 => Self::Delete(Selection::read(&mut octets, service)?),
            3 => null(&mut octets).map(|()| Self::Abort)?,
            4 => Self::Count(Selection::read(&mut octets, service)?),
            5 => {
                null(&mut octets)?;
                Self::CountIs(octets.u16()?)
            }
            6 => {
                null(&mut octets)?;
                Self::Response { to: octets.u8()?, outcome: Outcome::of(octets.u8()?) }
            }
            given => return Err(octets.fault(0, MessageFault::NoSuchCode { given })),
        };
        octets.end()?;
        Ok(access)
    }

    /// Writes a request or an answer.
    #[must_use]
    pub fn encode(&self) -> Vec<u8> {
        match self {
            Self::Report(selection) => [vec![Self::REPORT], selection.octets()].concat(),
            Self::Delete(selection) => [vec![2], selection.octets()].concat(),
            Self::Abort => vec![3, 0],
            Self::Count(selection) => [vec![4], selection.octets()].concat(),
            Self::CountIs(count) => [vec![5, 0], count.to_le_bytes().to_vec()].concat(),
            Self::Response { to, outcome } => vec![6, 0, *to, outcome.code()],
        }
    }
}
