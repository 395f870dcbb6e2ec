export const USAGE = `flashbell: a shop-floor kiosk for refinish painting

  flashbell serve [--port N] [--data DIR]   serve the kiosk on 127.0.0.1 until Ctrl-C
  flashbell practice [--port N] [--data DIR]  serve an invented morning at ten times speed, port 4610, data/practice
  flashbell verify [--data DIR]             check that every entry and picture is as it was kept
  flashbell calc NAME                       a calculation: JSON from standard input to standard output
  flashbell rehearse FILE                   play a list of commands in simulated time
  flashbell help | --help | --version

--port is 4600 (or FLASHBELL_PORT), of practice 4610 (or FLASHBELL_PRACTICE_PORT); 0 takes a free one. --data is data (or FLASHBELL_DATA).
The built kiosk is kept in the data folder's cache/ (or FLASHBELL_CACHE); it can be deleted at any time.
`
