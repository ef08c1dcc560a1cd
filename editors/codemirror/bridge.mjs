// Gives each WebSocket a language server of its own: `node bridge.mjs PORT ORIGIN`. Only this machine reaches it, and of the
// pages only those of ORIGIN: a server reads the files of the folder that it is told.

import { spawn } from "node:child_process";
import { WebSocketServer } from "ws";

const [port, allowed] = process.argv.slice(2);
const sockets = new WebSocketServer({
  host: "127.0.0.1",
  port: Number(port),
  verifyClient: ({ origin }) => origin === allowed,
});

sockets.on("listening", () => console.log(`ws://127.0.0.1:${sockets.address().port}`));

sockets.on("connection", (socket) => {
  const server = spawn("gridsetter", ["serve"], { stdio: ["pipe", "pipe", "inherit"] });
  server.on("error", (why) => socket.close(1011, String(why)));
  server.on("exit", () => socket.close());
  server.stdin.on("error", () => socket.close());
  socket.on("close", () => server.stdin.end());
  socket.on("message", (message) => server.stdin.write(`Content-Length: ${message.length}\r\n\r\n${message}`));

  // What the server writes comes in pieces; a message is whole when its length has come.
  let read = Buffer.alloc(0);
  server.stdout.on("data", (piece) => {
    read = Buffer.concat([read, piece]);
    for (;;) {
      const head = read.indexOf("\r\n\r\n");
      if (head < 0) return;
      const begin = head + 4;
      const end = begin + Number(/Content-Length: (\d+)/i.exec(read.toString("latin1", 0, head))[1]);
      if (read.length < end) return;
      socket.send(read.toString("utf8", begin, end));
      read = read.subarray(end);
    }
  });
});
