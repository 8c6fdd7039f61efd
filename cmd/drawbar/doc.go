// Command drawbar runs the service and everything around it: serve, work,
// migrate, plan, user, demo and more. `drawbar --help` lists them.
//
// main turns signals and errors into an end and an exit code; App is the
// program put together, which tests start as well. Settings come from flags,
// from DRAWBAR_… in the environment, or from a JSON file.
//
// Work that nobody waits for is put into the database in the transaction that
// causes it and done by whichever process is free. What is due by the clock is
// done by the process that writes its tick first.
package main
