using System.Data.Common;
using System.Net.Sockets;

namespace Whetwright.Records;

/// <summary>Tells a database server that is away, or lets nobody in, from other troubles.</summary>
public static class ServerAway
{
    /// <summary>What to say, to a person at a page.</summary>
    public const string Words = "The server that holds the shop's book does not answer. Nothing of what you just sent was saved; everything saved before is safe. Once it runs and the network is there, send it again: what you typed is still in the form you came from.";

    /// <summary>What the driver said, where it is that: no way to it, a connection broken off or ended by it (SQLSTATE classes 08 and 57), not let in (28), no such database (3D); null for anything else.</summary>
    public static string? Said(Exception? e) => e switch
    {
        null => null,
        DbException { SqlState: [var a, var b, ..] } server when $"{a}{b}" is "08" or "57" or "28" or "3D" => server.Message,
        DbException { SqlState: null, InnerException: SocketException or TimeoutException or IOException } broken => broken.Message,
        _ => Said(e.InnerException),
    };
}
