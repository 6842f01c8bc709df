//! Connections: how many, how slow, and how they end.

use axum::Router;
use hyper::server::conn::http1;
use hyper_util::rt::{TokioIo, TokioTimer};
use hyper_util::server::graceful::{GracefulShutdown, Watcher};
use hyper_util::service::TowerToHyperService;
use rustls::ServerConfig;
use std::sync::Arc;
use std::time::Duration;
use tokio::io::{AsyncRead, AsyncWrite};
use tokio::net::{TcpListener, TcpStream};
use tokio::sync::{Semaphore, watch};
use tokio::time::{sleep, timeout};
use tokio_rustls::TlsAcceptor;

/// Connections at once, and with one request at a time on each, requests too. A shop has dozens of machines.
const CONNECTIONS_MOST: usize = 512;
/// From the connection to the end of a request's head, and between requests.
const HEAD_MOST: Duration = Duration::from_secs(10);
const HANDSHAKE_MOST: Duration = Duration::from_secs(10);
/// What is being answered when the hub is told to stop may take this long.
const STOP_MOST: Duration = Duration::from_secs(10);
/// After the system gave no connection: usually it is out of file handles, and asking again at once would spin.
const ACCEPT_AGAIN: Duration = Duration::from_millis(200);

/// Answers until it is told to stop, and then until what was begun is answered.
pub async fn serve(
    listener: TcpListener,
    tls: Option<ServerConfig>,
    router: Router,
    mut stopping: watch::Receiver<bool>,
) {
    let tls = tls.map(|config| TlsAcceptor::from(Arc::new(config)));
    let open = Arc::new(Semaphore::new(CONNECTIONS_MOST));
    let graceful = GracefulShutdown::new();
    loop {
        let accepted = tokio::select! {
            accepted = accept(&listener, &open) => accepted,
            _ = stopping.wait_for(|stop| *stop) => break,
        };
        let Some((stream, permit)) = accepted else {
            sleep(ACCEPT_AGAIN).await;
            continue;
        };
        let (router, tls, watcher) = (router.clone(), tls.clone(), graceful.watcher());
        tokio::spawn(async move {
            talk(stream, tls, router, watcher).await;
            drop(permit);
        });
    }
    drop(listener);
    if timeout(STOP_MOST, graceful.shutdown()).await.is_err() {
        tracing::warn!("connections were cut off at the end");
    }
}

async fn accept(
    listener: &TcpListener,
    open: &Arc<Semaphore>,
) -> Option<(TcpStream, tokio::sync::OwnedSemaphorePermit)> {
    let permit = Arc::clone(open).acquire_owned().await.ok()?;
    match listener.accept().await {
        Ok((stream, _)) => Some((stream, permit)),
        Err(error) => {
            tracing::warn!(%error, "no connection can be taken");
            None
        }
    }
}

async fn talk(stream: TcpStream, tls: Option<TlsAcceptor>, router: Router, watcher: Watcher) {
    // Answers are short, and a sender waits for each.
    if let Err(error) = stream.set_nodelay(true) {
        tracing::debug!(%error, "a connection that answers late");
    }
    let Some(tls) = tls else { return answer(stream, router, watcher).await };
    match timeout(HANDSHAKE_MOST, tls.accept(stream)).await {
        Ok(Ok(stream)) => answer(stream, router, watcher).await,
        Ok(Err(error)) => tracing::debug!(%error, "no TLS was agreed"),
        Err(_) => tracing::debug!("no TLS was agreed in time"),
    }
}

async fn answer(stream: impl AsyncRead + AsyncWrite + Unpin + 'static, router: Router, watcher: Watcher) {
    let connection = http1::Builder::new()
        .timer(TokioTimer::new())
        .header_read_timeout(HEAD_MOST)
        .serve_connection(TokioIo::new(stream), TowerToHyperService::new(router));
    if let Err(error) = watcher.watch(connection).await {
        tracing::debug!(%error, "a connection broke");
    }
}
