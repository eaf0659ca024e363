namespace Whetwright.Web.Layout;

/// <summary>The rooms of the shop, in the order of the day.</summary>
public enum Room
{
    /// <summary>None of them.</summary>
    None = 0,

    /// <summary>Taking in and handing back.</summary>
    Counter = 1,

    /// <summary>What is here.</summary>
    Rack = 2,

    /// <summary>One piece, one step.</summary>
    Bench = 3,

    /// <summary>Everything that was.</summary>
    Book = 4,

    /// <summary>Rigs, wheels, abrasives, the shop's own settings.</summary>
    Kit = 5,

    /// <summary>Measuring the measurers.</summary>
    Gauges = 6,
}

/// <summary>Addresses of the rooms.</summary>
public static class Rooms
{
    /// <summary>All rooms in their order.</summary>
    public static IReadOnlyList<Room> All { get; } = [Room.Counter, Room.Rack, Room.Bench, Room.Book, Room.Kit, Room.Gauges];

    /// <summary>The room's first page.</summary>
    public static string Address(Room room) => room switch
    {
        Room.Counter => "/counter",
        Room.Rack => "/rack",
        Room.Bench => "/bench",
        Room.Book => "/book",
        Room.Kit => "/kit",
        Room.Gauges => "/gauges",
        _ => "/",
    };
}
