/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Locks that stay.
 *
 * SQLite takes its locks by fcntl (F_SETLK), and the system drops such a lock as soon as the process closes any
 * descriptor of that file (SQLite, "How To Corrupt An SQLite Database File", section 2.2). In a window that is no rare
 * thing: a file chooser opens the files of a folder to tell their kinds. Another program that opens the office then
 * believes that nobody has it open, and takes the log and its index away under this one: it dies (the index is mapped
 * into memory), or goes on writing into a log that nobody reads any more.
 *
 * Locks of an open file description (fcntl (2), "Open file description locks") go with their own descriptor alone, and
 * exclude locks of the other kind in other processes. SQLite has one descriptor of the index a process, and of a
 * database one a connection, the first of which holds the lock of all. So where a process has two connections to one
 * file, the one that was opened first is to be closed last, else the log stays beside the file until the next program
 * closes it. */
#define _GNU_SOURCE 1 /* F_OFD_SETLK */
#include "store/db.h"

#include <errno.h>
#include <fcntl.h>
#include <stdarg.h>

#ifdef F_OFD_SETLK
static int
lasting_fcntl (int fd, int command, ...)
{
  va_list args;
  int number;
  struct flock *lock;

  va_start (args, command);
  if (command == F_SETLK || command == F_SETLKW || command == F_GETLK)
    {
      struct flock lasting;
      int result, own = command == F_SETLK ? F_OFD_SETLK : command == F_SETLKW ? F_OFD_SETLKW : F_OFD_GETLK;

      lock = va_arg (args, struct flock *);
      va_end (args);
      lasting = *lock;
      lasting.l_pid = 0; /* the system asks for it */
      result = fcntl (fd, own, &lasting);
      if (result != 0 && errno == EINVAL) /* a file system that does not know them */
        return fcntl (fd, command, lock);
      if (result == 0 && command == F_GETLK)
        *lock = lasting;
      return result;
    }
  number = va_arg (args, int);
  va_end (args);
  return fcntl (fd, command, number);
}

void
db_use_lasting_locks (void)
{
  static gsize ready;

  if (g_once_init_enter (&ready))
    {
      sqlite3_vfs *vfs = sqlite3_vfs_find ("unix");

      /* One table of system calls serves all kinds of "unix". */
      if (vfs != NULL && vfs->iVersion >= 3)
        vfs->xSetSystemCall (vfs, "fcntl", (sqlite3_syscall_ptr) lasting_fcntl);
      g_once_init_leave (&ready, 1);
    }
}
#else
void
db_use_lasting_locks (void)
{
}
#endif
