//! Every change of a device in order, for passing on.

use rusqlite::params;

use super::{StoreError, View};
use crate::change::Stamp;
use crate::id::DeviceId;

impl View {
    /// The devices whose changes are here, in the order of their ids.
    ///
    /// # Errors
    /// [`StoreError`].
    pub fn devices(&self) -> Result<Vec<DeviceId>, StoreError> {
        let mut statement = self.db.prepare("SELECT DISTINCT device FROM change ORDER BY device")?;
        let rows = statement.query_map([], |row| row.get(0).map(DeviceId))?;
        Ok(rows.collect::<Result<_, _>>()?)
    }

    /// The highest stamp here.
    ///
    /// # Errors
    /// [`StoreError`].
    pub fn newest(&self) -> Result<Stamp, StoreError> {
        let newest: Option<i64> = self.db.query_row("SELECT max(stamp) FROM change", [], |row| row.get(0))?;
        Ok(newest.map_or(Stamp::ZERO, Stamp::from_bits))
    }

    /// How many changes are here.
    ///
    /// # Errors
    /// [`StoreError`].
    pub fn changes(&self) -> Result<u64, StoreError> {
        let count: i64 = self.db.query_row("SELECT count(*) FROM change", [], |row| row.get(0))?;
        Ok(super::row::unsigned(count))
    }

    /// Gives out the stamp and the text of every change of a device after a stamp, in order of stamps.
    ///
    /// # Errors
    /// [`StoreError`], or whatever `each` says.
    pub fn lines_of<E: From<StoreError>>(
        &self,
        device: DeviceId,
        after: Option<Stamp>,
        each: &mut dyn FnMut(Stamp, &str) -> Result<(), E>,
    ) -> Result<(), E> {
        let sql = |error: rusqlite::Error| E::from(StoreError::from(error));
        // Sorted by number, each text fetched in its turn: the sorting holds no texts.
        let mut order = self
            .db
            .prepare("SELECT n, stamp FROM change WHERE device = ?1 AND stamp > ?2 ORDER BY stamp, n")
            .map_err(sql)?;
        let mut text = self.db.prepare("SELECT text FROM change WHERE n = ?1").map_err(sql)?;
        let mut rows = order.query(params![device.0, after.map_or(-1, Stamp::to_bits)]).map_err(sql)?;
        while let Some(row) = rows.next().map_err(sql)? {
            let n: i64 = row.get(0).map_err(sql)?;
            let stamp = Stamp::from_bits(row.get(1).map_err(sql)?);
            let mut found = text.query([n]).map_err(sql)?;
            if let Some(row) = found.next().map_err(sql)? {
                each(
                    stamp,
                    row.get_ref(0).map_err(sql)?.as_str().map_err(|_| E::from(StoreError::Damaged))?,
                )?;
            }
        }
        Ok(())
    }
}
