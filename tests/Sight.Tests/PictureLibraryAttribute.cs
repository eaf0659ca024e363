using System.Reflection;
using OpenCvSharp;
using Xunit.v3;

namespace Whetwright.Sight.Tests;

/// <summary>
/// Tests that see photographs need OpenCV's native library (on Debian: libgtk-3-0 libdrm2 libatomic1). Without it they are skipped, visibly;
/// where the variable CI is set, as <c>.ci/run</c> does, they fail instead, so that nobody takes a skipped run for a passed one.
/// </summary>
[AttributeUsage(AttributeTargets.Assembly | AttributeTargets.Class)]
internal sealed class PictureLibraryAttribute : BeforeAfterTestAttribute
{
    private static readonly Lazy<string?> Missing = new(Look);

    public override void Before(MethodInfo methodUnderTest, IXunitTest test)
    {
        if (Missing.Value is not { } why || methodUnderTest.DeclaringType?.IsDefined(typeof(WithoutPictureLibraryAttribute), inherit: false) == true)
            return;
        string says = $"OpenCV's native library does not load here ({why}): apt-get install libgtk-3-0 libdrm2 libatomic1.";
        if (Environment.GetEnvironmentVariable("CI") is { Length: > 0 } and not "false")
            Assert.Fail(says);
        Assert.Skip(says);
    }

    private static string? Look()
    {
        try
        {
            using Mat mat = new(1, 1, MatType.CV_8UC1);
            return mat.Rows == 1 ? null : "it answers wrongly";
        }
        catch (Exception e) when (e is TypeInitializationException or DllNotFoundException or BadImageFormatException or OpenCvSharpException)
        {
            return e.GetBaseException().GetType().Name;
        }
    }
}

/// <summary>A class whose tests need no native library.</summary>
[AttributeUsage(AttributeTargets.Class)]
internal sealed class WithoutPictureLibraryAttribute : Attribute;
