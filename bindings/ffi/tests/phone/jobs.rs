//! Long work, and leaving and coming back.

use std::sync::Arc;
use std::time::{Duration, Instant};

use trug_ffi::{Book, Job, JobReport, TrugError};

use crate::{Phone, code, refused, zone};

/// What came of a job, waited for as a phone does.
pub(crate) fn end(job: &Arc<Job>) -> Result<JobReport, TrugError> {
    let until = Instant::now() + Duration::from_mins(1);
    loop {
        if let Some(report) = job.result()? {
            assert!(job.progress().unwrap().over);
            return Ok(report);
        }
        assert!(Instant::now() < until, "the job does not end");
        std::thread::sleep(Duration::from_millis(5));
    }
}

#[test]
fn a_check_tells_what_it_found_again_and_again() {
    let phone = Phone::new();
    phone.book.begin_find(Some(phone.photo("a.png")), "whole".into(), None).unwrap();
    let job = phone.book.start_check().unwrap();
    let report = end(&job).unwrap();
    assert!(matches!(report, JobReport::Checked { ok: true, finds: 1, photos: 1, .. }), "{report:?}");
    assert_eq!(job.result().unwrap(), Some(report));
    let rebuilt = end(&phone.book.start_rebuild().unwrap()).unwrap();
    assert!(matches!(rebuilt, JobReport::Rebuilt { .. }));
}

#[test]
fn a_backup_is_written_once_and_never_over_another_file() {
    let phone = Phone::new();
    phone.book.begin_find(Some(phone.photo("a.png")), "whole".into(), None).unwrap();
    let path = phone.dir.path().join("backup.zip").to_str().unwrap().to_owned();
    let report = end(&phone.book.start_backup(path.clone()).unwrap()).unwrap();
    assert_eq!(report, JobReport::BackedUp { photos: 1 });
    assert_eq!(code(end(&phone.book.start_backup(path).unwrap())), "in-the-way");
}

#[test]
fn a_cancelled_job_ends_with_its_code_and_leaves_everything_as_it_was() {
    let phone = Phone::new();
    for n in 0..40 {
        phone.book.begin_find(Some(phone.photo(&format!("{n}.png"))), "whole".into(), None).unwrap();
    }
    let before = phone.book.now(None).unwrap().finds;
    for start in [Book::start_check, Book::start_rebuild] {
        let job = start(&phone.book).unwrap();
        job.cancel().unwrap();
        assert_eq!(code(end(&job)), "stopped");
        assert_eq!(code(job.result()), "stopped");
    }
    let path = phone.dir.path().join("backup.zip");
    let job = phone.book.start_backup(path.to_str().unwrap().to_owned()).unwrap();
    job.cancel().unwrap();
    assert_eq!(code(end(&job)), "stopped");
    assert!(!path.exists());
    assert_eq!(phone.book.now(None).unwrap().finds, before);
}

#[test]
fn paused_it_answers_nothing_but_that_and_resumed_everything() {
    let phone = Phone::new();
    let book = &phone.book;
    let page = book.begin_find(None, "whole".into(), None).unwrap();
    book.pause().unwrap();
    book.pause().unwrap();
    assert_eq!(code(book.find_page(page.id.clone())), "paused");
    assert_eq!(code(book.begin_find(Some(phone.photo("a.png")), "whole".into(), None)), "paused");
    assert_eq!(code(book.now(None)), "paused");
    book.resume(zone()).unwrap();
    book.resume(zone()).unwrap();
    assert_eq!(book.find_page(page.id.clone()).unwrap(), page);
    assert_eq!(book.begin_find(Some(phone.photo("a.png")), "whole".into(), None).unwrap().photos.len(), 1);
}

#[test]
fn a_second_opening_is_refused_and_a_later_one_finds_everything() {
    let phone = Phone::new();
    let page = phone.book.begin_find(None, "whole".into(), None).unwrap();
    let folder = phone.dir.path().join("notebook").to_str().unwrap().to_owned();
    assert_eq!(code(Book::open(folder.clone(), zone())), "busy");
    let Phone { dir: _dir, book } = phone;
    drop(book);
    let again = Book::open(folder, zone()).unwrap();
    assert_eq!(again.find_page(page.id.clone()).unwrap(), page);
    assert!(again.opening().unwrap().lost.is_empty());
}

#[test]
fn a_time_is_shown_in_the_zone_that_the_phone_stands_in() {
    let phone = Phone::new();
    let offset = || phone.book.now(None).unwrap().now.offset_seconds;
    let move_to = |name: &str, offset_seconds| {
        phone.book.resume(trug_ffi::Zone { name: name.into(), offset_seconds }).unwrap();
    };
    move_to("Asia/Kathmandu", 0);
    assert_eq!(offset(), 20_700, "5 h 45 min, without summer time (from memory)");
    move_to("Nowhere/At_All", -12_600);
    assert_eq!(offset(), -12_600);
    assert!(!format!("{:?}", refused(phone.book.find_page("x".into()))).is_empty());
}
