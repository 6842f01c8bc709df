//! Against answers that are none: the real printer is `ippeveprinter`, in the outermost tests.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use super::super::tests::{PlainTicket, page};
use super::*;
use ipp::model::IppVersion;
use ipp::parser::IppParser;
use ipp::reader::IppReader;
use std::io::{Cursor, Read, Write};
use std::net::{TcpListener, TcpStream};
use std::time::Duration;

/// What a scripted printer does with one request.
enum Does {
    Answers(IppRequestResponse),
    Says(&'static [u8]),
    HangsUp,
    Stalls,
}

/// A printer that does one thing a request, and gives the operations that it was asked.
fn scripted(does: Vec<Does>) -> (IppPrinter, std::thread::JoinHandle<Vec<i16>>) {
    let listener = TcpListener::bind("127.0.0.1:0").unwrap();
    let uri = format!("ipp://{}/ipp/print", listener.local_addr().unwrap()).parse().unwrap();
    let ask = Asker::within(uri, Duration::from_millis(500), Duration::from_millis(700));
    let asked = std::thread::spawn(move || {
        let mut asked = Vec::new();
        let mut held = Vec::new();
        for act in does {
            let (mut stream, _) = listener.accept().unwrap();
            let (head, body) = request(&mut stream);
            assert!(head.to_ascii_lowercase().contains("content-length:"), "{head}");
            let parsed = IppParser::new(IppReader::new(Cursor::new(body))).parse().unwrap();
            asked.push(parsed.header().operation_or_status);
            match act {
                Does::Answers(answer) => {
                    let bytes = answer.to_bytes();
                    let head = format!(
                        "HTTP/1.1 200 OK\r\nContent-Type: application/ipp\r\nConnection: close\r\nContent-Length: {}\r\n\r\n",
                        bytes.len()
                    );
                    stream.write_all(head.as_bytes()).unwrap();
                    stream.write_all(&bytes).unwrap();
                }
                Does::Says(bytes) => stream.write_all(bytes).unwrap(),
                Does::HangsUp => drop(stream),
                Does::Stalls => held.push(stream),
            }
        }
        asked
    });
    (IppPrinter { ask }, asked)
}

fn request(stream: &mut TcpStream) -> (String, Vec<u8>) {
    let mut bytes = Vec::new();
    let mut buffer = [0; 4096];
    loop {
        let read = stream.read(&mut buffer).unwrap();
        bytes.extend_from_slice(&buffer[..read]);
        let Some(end) = bytes.windows(4).position(|four| four == b"\r\n\r\n") else { continue };
        let head = String::from_utf8(bytes[..end].to_vec()).unwrap();
        let length =
            head.lines().find_map(|line| line.to_ascii_lowercase().strip_prefix("content-length: ").map(str::to_owned));
        let length: usize = length.unwrap().parse().unwrap();
        if bytes.len() >= end + 4 + length {
            return (head, bytes[end + 4..].to_vec());
        }
    }
}

fn answer(status: StatusCode, tag: DelimiterTag, attributes: Vec<(&str, IppValue)>) -> Does {
    let mut answer = IppRequestResponse::new_response(IppVersion::v2_0(), status, 1).unwrap();
    for (name, value) in attributes {
        answer.attributes_mut().add(tag, IppAttribute::with_name(name, value).unwrap());
    }
    Does::Answers(answer)
}

fn able() -> Does {
    answer(
        StatusCode::SuccessfulOk,
        DelimiterTag::PrinterAttributes,
        vec![
            ("printer-state", IppValue::Enum(3)),
            ("printer-state-reasons", IppValue::new_keyword("none").unwrap()),
            ("document-format-supported", IppValue::new_mime_media_type("image/pwg-raster").unwrap()),
            ("printer-resolution-supported", IppValue::new_resolution(203, 203, 3)),
        ],
    )
}

fn fine() -> Does {
    answer(StatusCode::SuccessfulOk, DelimiterTag::JobAttributes, vec![])
}

fn created(job: i32) -> Does {
    answer(StatusCode::SuccessfulOk, DelimiterTag::JobAttributes, vec![("job-id", IppValue::Integer(job))])
}

fn job_state(state: JobState, documents: i32) -> Does {
    answer(
        StatusCode::SuccessfulOk,
        DelimiterTag::JobAttributes,
        vec![("job-state", IppValue::Enum(state as i32)), ("number-of-documents", IppValue::Integer(documents))],
    )
}

const GET_PRINTER: i16 = Operation::GetPrinterAttributes as i16;
const VALIDATE: i16 = Operation::ValidateJob as i16;
const CREATE: i16 = Operation::CreateJob as i16;
const GET_JOB: i16 = Operation::GetJobAttributes as i16;
const SEND: i16 = Operation::SendDocument as i16;

#[test]
fn a_job_is_validated_created_filled_and_watched_to_its_end() {
    let (mut printer, asked) = scripted(vec![
        able(),
        fine(),
        created(41),
        job_state(JobState::PendingHeld, 0),
        able(),
        fine(),
        job_state(JobState::Processing, 1),
        able(),
        job_state(JobState::Completed, 1),
    ]);
    let mut ticket = PlainTicket::default();
    assert_eq!(printer.print(&page(), &mut ticket), Ok(()));
    assert_eq!(ticket.phases, [Phase::Created(41), Phase::Sending(41), Phase::Sent(41), Phase::Printed]);
    let order = [GET_PRINTER, VALIDATE, CREATE, GET_JOB, GET_PRINTER, SEND, GET_JOB, GET_PRINTER, GET_JOB];
    assert_eq!(asked.join().unwrap(), order);
}

/// The page's answer is lost: the job is asked about, and no second one is created.
#[test]
fn after_a_time_out_the_job_is_asked_about() {
    let (mut printer, asked) = scripted(vec![
        able(),
        fine(),
        created(7),
        job_state(JobState::PendingHeld, 0),
        able(),
        Does::Stalls,
        job_state(JobState::Processing, 1),
        job_state(JobState::Completed, 1),
    ]);
    let mut ticket = PlainTicket::default();
    let stopped = printer.print(&page(), &mut ticket).unwrap_err();
    assert!(matches!(stopped, Stopped::Wait(PrinterTrouble::Silent { .. })), "{stopped:?}");
    assert_eq!(ticket.phases.last(), Some(&Phase::Sending(7)));
    assert_eq!(printer.print(&page(), &mut ticket), Ok(()));
    let asked = asked.join().unwrap();
    assert_eq!(asked.iter().filter(|operation| **operation == CREATE).count(), 1, "{asked:?}");
    assert_eq!(asked.iter().filter(|operation| **operation == SEND).count(), 1, "{asked:?}");
}

/// The page did not arrive: the same job is filled again.
#[test]
fn an_empty_job_is_filled_again_and_none_is_made() {
    let (mut printer, asked) = scripted(vec![
        job_state(JobState::PendingHeld, 0),
        job_state(JobState::PendingHeld, 0),
        able(),
        fine(),
        job_state(JobState::Completed, 1),
    ]);
    let mut ticket = PlainTicket { phases: vec![Phase::Sending(7)], ..PlainTicket::default() };
    assert_eq!(printer.print(&page(), &mut ticket), Ok(()));
    assert_eq!(asked.join().unwrap(), [GET_JOB, GET_JOB, GET_PRINTER, SEND, GET_JOB]);
}

/// The printer was switched off and on in the middle and knows nothing any more.
#[test]
fn a_forgotten_job_is_in_doubt_once_it_had_its_page_and_begun_anew_before() {
    let gone = || answer(StatusCode::ClientErrorNotFound, DelimiterTag::JobAttributes, vec![]);
    for phase in [Phase::Sending(7), Phase::Sent(7)] {
        let (mut printer, asked) = scripted(vec![gone()]);
        let mut ticket = PlainTicket { phases: vec![phase], ..PlainTicket::default() };
        assert_eq!(printer.print(&page(), &mut ticket), Err(Stopped::InDoubt));
        asked.join().unwrap();
    }
    // It counts anew, and another's job has the number.
    let name = IppValue::new_name_without_language("another's").unwrap();
    let done = IppValue::Enum(JobState::Completed as i32);
    let other = vec![("job-state", done), ("job-name", name)];
    let (mut printer, asked) = scripted(vec![answer(StatusCode::SuccessfulOk, DelimiterTag::JobAttributes, other)]);
    let mut ticket = PlainTicket { phases: vec![Phase::Sent(7)], ..PlainTicket::default() };
    assert_eq!(printer.print(&page(), &mut ticket), Err(Stopped::InDoubt));
    asked.join().unwrap();
    let (mut printer, asked) = scripted(vec![gone(), able(), fine(), created(1), Does::HangsUp]);
    let mut ticket = PlainTicket { phases: vec![Phase::Created(7)], ..PlainTicket::default() };
    assert!(matches!(printer.print(&page(), &mut ticket), Err(Stopped::Wait(_))));
    assert_eq!(ticket.phase(), Phase::Created(1));
    asked.join().unwrap();
}

#[test]
fn no_answer_refusals_and_nonsense_are_told_apart() {
    let told = |does: Vec<Does>| {
        let (mut printer, asked) = scripted(does);
        let trouble = printer.look(Some(&page())).unwrap_err();
        asked.join().unwrap();
        trouble
    };
    assert!(matches!(told(vec![Does::Stalls]), PrinterTrouble::Silent { .. }));
    assert!(matches!(told(vec![Does::HangsUp]), PrinterTrouble::Silent { .. } | PrinterTrouble::NotAPrinter { .. }));
    let web = b"HTTP/1.1 404 Not Found\r\nConnection: close\r\nContent-Length: 0\r\n\r\n";
    assert!(matches!(told(vec![Does::Says(web)]), PrinterTrouble::NotAPrinter { .. }));
    let page = b"HTTP/1.1 200 OK\r\nConnection: close\r\nContent-Length: 5\r\n\r\nhello";
    assert!(matches!(told(vec![Does::Says(page)]), PrinterTrouble::NotAPrinter { .. }));
    let busy = answer(StatusCode::ServerErrorNotAcceptingJobs, DelimiterTag::PrinterAttributes, vec![]);
    assert_eq!(told(vec![busy]), PrinterTrouble::NotAccepting);
    // Nobody there at all.
    let listener = TcpListener::bind("127.0.0.1:0").unwrap();
    let uri = format!("ipp://{}/ipp/print", listener.local_addr().unwrap()).parse().unwrap();
    drop(listener);
    let alone = IppPrinter::new(uri).look(None).unwrap_err();
    assert!(matches!(alone, PrinterTrouble::Unreachable { .. }), "{alone:?}");
}

#[test]
fn a_printer_of_other_sizes_resolutions_or_formats_is_told_before_anything_is_begun() {
    let with = |name: &str, value: IppValue| {
        let mut attributes = vec![
            ("document-format-supported", IppValue::new_mime_media_type("image/pwg-raster").unwrap()),
            ("printer-resolution-supported", IppValue::new_resolution(203, 203, 3)),
        ];
        attributes.retain(|(has, _)| *has != name);
        attributes.push((name, value));
        let (mut printer, asked) =
            scripted(vec![answer(StatusCode::SuccessfulOk, DelimiterTag::PrinterAttributes, attributes)]);
        let trouble = printer.look(Some(&page())).unwrap_err();
        asked.join().unwrap();
        trouble
    };
    let pdf = IppValue::new_mime_media_type("application/pdf").unwrap();
    assert_eq!(with("document-format-supported", pdf), PrinterTrouble::Format);
    let finer = IppValue::new_resolution(300, 300, 3);
    assert_eq!(
        with("printer-resolution-supported", finer),
        PrinterTrouble::Resolution { drawn: 203, prints: vec![300] }
    );
    let small = offer::tests_size(5400, 2500);
    let size = PrinterTrouble::Size { width_mm: "62".to_owned(), height_mm: "29".to_owned() };
    assert_eq!(with("media-size-supported", small), size);
}
